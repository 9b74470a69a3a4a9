import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import { knownId } from '../identifier.ts';
import { standingsOfOpening } from '../items/standings.ts';
import { prose } from '../prose.ts';
import { useCase, type RecordDeps } from '../use-case.ts';
import { decideSubmission, type LeftOut, type ShownForSubmission, type ToSubmit } from './rules.ts';

export interface Submitted {
  readonly submissionId: string;
  readonly number: number;
  readonly versions: readonly ToSubmit[];
  readonly leftOut: readonly LeftOut[];
}

/**
 * Hands versions of an opening to the engineer: those in `shown`, or all newest ones that were not submitted yet.
 *
 * @throws Conflict, Refused as `decideSubmission` does; @throws NotFound for an opening of another project.
 */
export async function submitVersions(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly openingId: string;
    readonly note?: string;
    readonly shown?: readonly ShownForSubmission[];
  },
): Promise<Submitted> {
  const openingId = knownId(input.openingId, 'That opening');
  const note = prose(input.note ?? '', 'note');
  return useCase(deps, actor, 'submission.create', async (use) => {
    const { tx, kinds, at } = use;
    const { projectId, personId: byId } = use.actor;
    const opening = await tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true } });
    if (!opening) throw new NotFound('That opening');
    const standings = await standingsOfOpening(tx, kinds, { projectId }, openingId);
    const { submit, leftOut } = decideSubmission(standings, input.shown ?? null);
    const last = await tx.submission.aggregate({ where: { openingId }, _max: { number: true } });
    const number = (last._max.number ?? 0) + 1;
    const submissionId = randomUUID();
    await tx.submission.create({
      data: { id: submissionId, projectId, openingId, number, note, byId, at },
      select: { id: true },
    });
    await tx.submissionEntry.createMany({
      data: submit.map(({ versionId }) => ({ submissionId, versionId })),
    });
    await use.append('versions.submitted', {
      submissionId,
      openingId,
      number,
      note,
      versions: submit.map(({ versionId, hash }) => ({ versionId, hash })),
    });
    return { submissionId, number, versions: submit, leftOut };
  });
}
