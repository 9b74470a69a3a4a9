import { NotFound } from '../../problems.ts';
import type { Transaction } from '../../record/events/append.ts';
import type { KindRegistry } from '../../record/kinds/registry.ts';
import { holdPoints } from '../../inspection/checks/check.ts';
import { heldBesides, reasonsToHold, type HoldReason } from '../../inspection/held-besides.ts';
import { holdPointStates, mayStart, waitingParts } from '../../inspection/hold-points.ts';
import { stoppedVisits } from '../../inspection/shown.ts';
import { checkStatuses, isSettled, type CheckStatus } from '../../inspection/status.ts';
import { checksOfSet, findingsOfOpening, setForChecklist, visitsOfNow } from '../../inspection/store.ts';
import { readMaterialOnSite } from '../deliveries/store.ts';
import { servicesOfOpening } from '../services/store.ts';
import { stepsOf } from './plan.ts';
import type { RecordedStep, SequenceFacts } from './standing.ts';
import type { UsualStepKey } from './steps.ts';
import { sequencePlanOf, workOfOpening } from './store.ts';

export interface OpeningFacts extends SequenceFacts {
  readonly openingName: string;
  readonly planNumber: number;
  /** Circuits, pipes and ducts that the record knows of. */
  readonly servicesListed: number;
}

/**
 * All that the order of work of an opening rests on, as the record stands. Paths lead within the project.
 *
 * @throws NotFound for an opening of another project
 */
export async function readSequenceFacts(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
): Promise<OpeningFacts> {
  const opening = await tx.opening.findFirst({
    where: { id: openingId, projectId },
    select: { name: true, project: { select: { permitNumber: true, timeZone: true } } },
  });
  if (opening === null) throw new NotFound('That opening');
  const within = (rest: string) => `/openings/${openingId}${rest}`;
  const plan = await sequencePlanOf(tx, openingId);
  const set = await setForChecklist(tx, projectId, openingId);
  const statuses =
    set === null
      ? null
      : checkStatuses(
          set.number,
          await checksOfSet(tx, set.setId),
          await findingsOfOpening(tx, projectId, openingId),
        );
  const held = set === null ? [] : await reasonsToHold(tx, kinds, { projectId, openingId, setId: set.setId });
  const first = await tx.approvedSet.findFirst({
    where: { projectId, openingId },
    orderBy: { number: 'asc' },
    select: { issuedAt: true },
  });
  const visits = await visitsOfNow(tx, projectId, openingId);
  const services = await servicesOfOpening(tx, projectId, openingId);
  const hold = (step: string) => accepted(step, statuses, held, within('/checklist'));
  const final = visits.find(({ kind, closing }) => kind === 'final' && closing !== null);
  const passed = final?.closing?.outcome === 'passed';
  const recorded: Partial<Record<UsualStepKey, RecordedStep>> = {
    permit: recordedAs(
      opening.project.permitNumber.trim() === ''
        ? ['no permit number is written down for this project.']
        : [],
      '',
    ),
    set: recordedAs(
      set === null ? ['none yet. Nothing is cut or taken out before.'] : [],
      within(''),
      first?.issuedAt ?? null,
    ),
    services: recordedAs(
      services.flatMap(({ standing }) => (standing.holds === '' ? [] : [standing.holds])),
      within('/services'),
      latest(services.map(({ standing }) => (standing.safe ?? standing.carriedOut)?.at ?? null)),
    ),
    material: recordedAs(
      (await readMaterialOnSite(tx, projectId, openingId, BEFORE_THE_WALL)).reasons,
      within('/deliveries'),
    ),
    shoring_accepted: hold(holdPoints.wallOut),
    pour_accepted: hold(holdPoints.pour),
    framing_accepted: hold(holdPoints.shoringOut),
    cover_accepted: hold(holdPoints.cover),
    final: recordedAs(
      passed ? [] : ['it has not passed yet.'],
      within('/checklist'),
      passed ? (final.closing?.closedAt ?? null) : null,
    ),
  };
  const [stop] = stoppedVisits(visits);
  return {
    openingId,
    openingName: opening.name,
    timeZone: opening.project.timeZone,
    planNumber: plan.number,
    servicesListed: services.length,
    steps: stepsOf(plan),
    recorded,
    guarded: heldBesides(holdPointStates(statuses ?? []), held).map(({ step }) => step),
    stopped:
      stop === undefined
        ? ''
        : `Visit ${stop.number} stopped the work: ${stop.closing?.summary ?? ''} A later visit of that kind has to lift it.`,
    entries: await workOfOpening(tx, projectId, openingId),
  };
}

function recordedAs(missing: readonly string[], href: string, since: Date | null = null): RecordedStep {
  return { done: missing.length === 0, missing, since, href };
}

/** A hold point of the set in force: released, since the last of what its checks found. */
function accepted(
  step: string,
  statuses: readonly CheckStatus[] | null,
  held: readonly HoldReason[],
  href: string,
): RecordedStep {
  const besides = held.filter((reason) => reason.step === step).map(({ why }) => why);
  const answer = mayStart(step, statuses, besides);
  const guards = (statuses ?? []).filter((status) => status.holdPoint === step && isSettled(status));
  const since = latest(guards.map(({ finding, accepted: word }) => finding?.at ?? word?.at ?? null));
  return {
    ...recordedAs(answer.mayStart ? [] : [answer.waitsFor], href, since),
    parts: waitingParts(answer),
  };
}

/** What has to lie there before the wall may come out: nobody leaves a house on temporary walls for want of a beam. */
const BEFORE_THE_WALL = ['packs', 'beam', 'joists'] as const;

function latest(times: readonly (Date | null)[]): Date | null {
  return times.reduce((last, time) => (time !== null && (last === null || time > last) ? time : last), null);
}
