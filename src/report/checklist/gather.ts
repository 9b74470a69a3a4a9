import type { Actor } from '../../actor.ts';
import { minuteText } from '../../house-time.ts';
import { holdPointStates } from '../../inspection/hold-points.ts';
import { loadStatuses, photosOfShown, type ShownPhotos } from '../../inspection/load.ts';
import { keyOfVisit, visitName } from '../../inspection/plan/plan.ts';
import { jurisdictionOf, planOf } from '../../inspection/plan/store.ts';
import { checksOfVisit, type CheckStatus } from '../../inspection/status.ts';
import { setForChecklist } from '../../inspection/store.ts';
import { outcomes } from '../../inspection/visits/outcomes.ts';
import { setInForce, withSets } from '../../inspection/visits/set-in-force.ts';
import { NotFound, Refused } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { joined } from '../../record/prose.ts';
import { asMember, type RecordDeps } from '../../record/use-case.ts';

export interface ChecklistGroup {
  readonly title: string;
  /** '' where the project has this inspection; else who decides in its place. */
  readonly instead: string;
  readonly statuses: readonly CheckStatus[];
}

/** An inspector's list on paper: of an issued set, to be filled in; or of a closed visit, filled. */
export interface ChecklistSheet {
  readonly project: {
    readonly name: string;
    readonly address: string;
    readonly permitNumber: string;
    readonly timeZone: string;
  };
  readonly jurisdiction: string;
  readonly opening: { readonly ordinal: number; readonly name: string };
  readonly set: { readonly number: number; readonly hash: string; readonly supersededBy: number | null };
  readonly title: string;
  /** The live page: look there before relying on the paper. */
  readonly liveUrl: string;
  readonly groups: readonly ChecklistGroup[];
  /** 'take the wall out: waits for 3', of a list; empty for a visit. */
  readonly held: readonly { readonly step: string; readonly words: string }[];
  readonly withoutPhoto: ReadonlySet<string>;
  readonly photos: ShownPhotos['photosBy'];
  /** 0 for a list. */
  readonly visitNumber: number;
  /** How the visit was closed; null for a list that is to be filled in. */
  readonly closing: readonly (readonly [string, string])[] | null;
  readonly madeAt: Date;
}

/** The list of an issued set as it stands now. @throws NotFound for a set of another project */
export async function checklistOfSet(
  deps: RecordDeps,
  actor: Actor,
  setId: string,
  publicUrl: string,
): Promise<ChecklistSheet> {
  const known = knownId(setId, 'That set');
  const found = await asMember(deps, actor, 'checklist.read', (tx, { projectId }) =>
    tx.approvedSet.findFirst({
      where: { id: known, projectId },
      select: { number: true, openingId: true, opening: { include: { project: true } } },
    }),
  );
  if (found === null) throw new NotFound('That set');
  const { opening, openingId, number } = found;
  const { prisma } = deps;
  const set = await setForChecklist(prisma, actor.projectId, openingId, number);
  if (set === null) throw new NotFound('That set');
  const plan = await planOf(prisma, actor.projectId);
  const statuses = await loadStatuses(prisma, actor, openingId, set, { plan });
  const shown = await photosOfShown(prisma, actor, statuses);
  return {
    project: opening.project,
    jurisdiction: await jurisdictionOf(prisma, actor.projectId),
    opening,
    set: {
      number,
      hash: set.hash,
      supersededBy: set.newestNumber > number ? set.newestNumber : null,
    },
    title: `Checklist from set ${number}`,
    liveUrl: `${publicUrl}/projects/${actor.projectId}/openings/${openingId}/checklist`,
    groups: plan.visits
      .map(({ key, name, on, decidedBy }) => ({
        title: name,
        instead: on ? '' : decidedBy === 'engineer' ? 'the engineer' : 'the authority having jurisdiction',
        statuses: statuses.filter((status) => (status.visitKey ?? status.visitKind) === key),
      }))
      .filter((group) => group.statuses.length > 0),
    held: holdPointStates(statuses).map(({ step, released, missing }) => ({
      step,
      words: released ? 'released' : `waits for ${missing.length}: ${joined(missing)}`,
    })),
    withoutPhoto: new Set(shown.withoutPhoto),
    photos: shown.photosBy,
    visitNumber: 0,
    closing: null,
    madeAt: deps.clock(),
  };
}

/**
 * A closed visit as it stood when it was closed.
 *
 * @throws NotFound for a visit of another project; Refused while it is open
 */
export async function checklistOfVisit(
  deps: RecordDeps,
  actor: Actor,
  visitId: string,
  publicUrl: string,
): Promise<ChecklistSheet> {
  const known = knownId(visitId, 'That visit');
  const visit = await asMember(deps, actor, 'visit.read', (tx, { projectId }) =>
    tx.visit.findFirst({
      where: { id: known, projectId },
      include: { opening: { include: { project: true } }, closing: true, ...withSets },
    }),
  );
  if (visit === null) throw new NotFound('That visit');
  const { closing, opening } = visit;
  if (closing === null) throw new Refused('This visit is open: it is printed once it is closed.');
  const { prisma } = deps;
  const set = setInForce(visit);
  const newest = await setForChecklist(prisma, actor.projectId, visit.openingId);
  const plan = await planOf(prisma, actor.projectId, visit.planNumber);
  const all = await loadStatuses(prisma, actor, visit.openingId, set, { plan, until: closing.closedAt });
  const key = keyOfVisit(visit);
  const name = visitName(plan, key);
  const statuses = checksOfVisit(key, all);
  const shown = await photosOfShown(prisma, actor, statuses);
  const closedBy = await prisma.person.findUnique({
    where: { id: closing.closedById },
    select: { name: true },
  });
  const outcome = outcomes.find(({ value }) => value === closing.outcome)?.text ?? closing.outcome;
  return {
    project: opening.project,
    jurisdiction: await jurisdictionOf(prisma, actor.projectId),
    opening,
    set: {
      number: set.number,
      hash: set.hash,
      supersededBy: newest !== null && newest.number > set.number ? newest.number : null,
    },
    title: `Visit ${visit.number}: ${name}`,
    liveUrl: `${publicUrl}/projects/${actor.projectId}/visits/${visit.id}`,
    groups: [{ title: name, instead: '', statuses }],
    held: [],
    withoutPhoto: new Set(shown.withoutPhoto),
    photos: shown.photosBy,
    visitNumber: visit.number,
    closing: [
      ['Outcome', outcome],
      ['Portion that may go on', closing.portion === '' ? 'none named' : closing.portion],
      ['Summary', closing.summary === '' ? 'none' : closing.summary],
      ['Begun', minuteText(visit.openedAt, opening.project.timeZone)],
      ['Signed', `${closing.signedName}, ${minuteText(closing.closedAt, opening.project.timeZone)}`],
      ['Closed from the account of', closedBy?.name ?? ''],
    ],
    madeAt: deps.clock(),
  };
}
