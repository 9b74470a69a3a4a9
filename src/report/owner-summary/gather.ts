import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import { setsOfOpening } from '../../record/sets/store.ts';
import { asMember, type RecordDeps } from '../../record/use-case.ts';
import { ownersMattersOf, type OwnersMatters } from '../../site/owner/decisions.ts';
import { readOwnersPage, type OwnersPage } from '../../site/owner/read.ts';
import type { DrawnOpening } from '../drawings/scaled/index.ts';
import { drawingsOfSet } from '../opening-drawings/gather.ts';

/** What the owner takes along: how far it is in plain words, and the picture of what is approved. */
export interface OwnerSummary {
  readonly house: string;
  readonly address: string;
  readonly timeZone: string;
  readonly ordinal: number;
  readonly page: OwnersPage;
  /** Null on the paper of somebody who is neither owner nor contractor. */
  readonly matters: OwnersMatters | null;
  /** The opening as the set in force has it; null where none holds a beam. */
  readonly drawn: DrawnOpening | null;
  readonly setHash: string;
  readonly liveUrl: string;
  readonly madeAt: Date;
}

/** @throws NotFound for another project's opening */
export async function ownerSummary(
  deps: RecordDeps,
  actor: Actor,
  openingId: string,
  publicUrl: string,
): Promise<OwnerSummary> {
  const found = await asMember(deps, actor, 'progress.read', async (tx, { projectId, role }) => {
    const opening = await tx.opening.findFirst({
      where: { id: openingId, projectId },
      select: { ordinal: true, project: { select: { name: true, address: true, timeZone: true } } },
    });
    const [set] = opening === null ? [] : await setsOfOpening(tx, projectId, openingId);
    return opening && { ...opening, set, matters: await ownersMattersOf(tx, role, projectId, openingId) };
  });
  if (found === null) throw new NotFound('That opening');
  const { set, project, ordinal, matters } = found;
  const drawings = set === undefined ? null : await drawingsOfSet(deps, actor, set.setId);
  return {
    house: project.name,
    address: project.address,
    timeZone: project.timeZone,
    ordinal,
    page: await readOwnersPage(deps, actor, openingId),
    matters,
    drawn: drawings?.drawn ?? null,
    setHash: set?.hash ?? '',
    liveUrl: `${publicUrl}/projects/${actor.projectId}/openings/${openingId}/progress`,
    madeAt: deps.clock(),
  };
}
