import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import type { UploadedFile } from '../../attachments/multipart.ts';
import { recordAttachments } from '../../attachments/service.ts';
import type { FindingResult, VisitKind } from '../../database/generated/client.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps, type UseCase } from '../../record/use-case.ts';
import { keyOfVisit, visitName } from '../plan/plan.ts';
import { judgePlace, type Place } from './place.ts';
import { choiceIsOpen, setInForce, setsOfVisit, withSets, type VisitWithSets } from './set-in-force.ts';
import { planOf } from '../plan/store.ts';
import { photosOfFindings } from '../photos.ts';
import { lacksPhoto } from '../shown.ts';
import { checksOfVisit, checkStatuses, closingProblems, type CheckStatus, type Closing } from '../status.ts';
import { checksOfSet, findingsOfOpening, setForChecklist } from '../store.ts';

/**
 * Opens a visit against the newest set, by its key in the plan of inspections (the kind, for the usual ones). The same
 * one can't be open twice; pressing twice opens one.
 *
 * @throws Refused where there is no set, the plan has no such inspection, or it is switched off
 */
export async function openVisit(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly visitKey: string },
): Promise<{ visitId: string; number: number }> {
  return useCase(deps, actor, 'visit.open', async ({ tx, at, append }) => {
    const { projectId, personId } = actor;
    const { openingId, visitKey } = input;
    const plan = await planOf(tx, projectId);
    const planned = plan.visits.find((visit) => visit.key === visitKey);
    if (planned === undefined) throw new Refused('Choose which visit this is.');
    if (!planned.on) throw new Refused(`“${planned.name}” is switched off in this project.`);
    const { kind } = planned;
    const localVisit = kind === 'local' ? visitKey : '';
    const set = await setForChecklist(tx, projectId, openingId);
    if (set === null) throw new Refused('There is no approved set yet: nothing to inspect against.');
    const open = await tx.visit.findFirst({
      where: { projectId, openingId, kind, localVisit, closing: null },
    });
    if (open !== null) return { visitId: open.id, number: open.number };
    const last = await tx.visit.aggregate({ where: { openingId }, _max: { number: true } });
    const number = (last._max.number ?? 0) + 1;
    const visitId = randomUUID();
    await tx.visit.create({
      data: {
        id: visitId,
        projectId,
        openingId,
        setId: set.setId,
        number,
        kind,
        localVisit,
        planNumber: plan.number,
        openedById: personId,
        openedAt: at,
      },
    });
    await append('visit.opened', {
      visitId,
      openingId,
      setId: set.setId,
      number,
      kind,
      localVisit,
      planNumber: plan.number,
    });
    return { visitId, number };
  });
}

/** @throws NotFound where the actor's project has no such visit */
export async function findVisit({ tx, actor }: UseCase, visitId: string) {
  const visit = await tx.visit.findFirst({
    where: { id: visitId, projectId: actor.projectId },
    include: { closing: true, ...withSets },
  });
  if (visit === null) throw new NotFound('That visit');
  return visit;
}

export interface RecordFinding {
  readonly visitId: string;
  readonly checkId: string;
  /** Made once per finding by whoever records it; a repeated delivery is the same finding. */
  readonly clientKey: string;
  readonly result: FindingResult;
  readonly reason: string;
  readonly location: string;
  /** On a drawing of the set. */
  readonly place?: Place | null;
  /** When it was found; now, where left out. */
  readonly at?: Date;
  readonly files: readonly UploadedFile[];
}

export interface RecordedFinding {
  readonly findingId: string;
  /** The same form came a second time; nothing was added. */
  readonly repeated: boolean;
  /** Title of what was looked at. */
  readonly title: string;
}

const LONGEST_LINE = 200;

/**
 * The texts of a finding, trimmed. @throws Invalid at the fields that can't be kept, or where a correction or "not
 * applicable" has no reason
 */
export function findingTexts(
  input: Pick<RecordFinding, 'checkId' | 'result' | 'reason' | 'location'>,
): Pick<RecordFinding, 'reason' | 'location'> {
  const reason = prose(input.reason, `reason.${input.checkId}`);
  const location = prose(input.location, `location.${input.checkId}`);
  if (location.length > LONGEST_LINE) {
    throw new Invalid({ [`location.${input.checkId}`]: `Use at most ${LONGEST_LINE} characters.` });
  }
  if (input.result !== 'pass' && reason === '') {
    throw new Invalid({
      [`reason.${input.checkId}`]:
        input.result === 'correction' ? 'Say what has to be put right.' : 'Say why it does not apply.',
    });
  }
  return { reason, location };
}

/** @throws Refused where the check belongs to another set or another kind of visit */
export async function checkForVisit(
  { tx, actor }: UseCase,
  visit: VisitWithSets & { readonly kind: VisitKind; readonly localVisit: string },
  checkId: string,
) {
  const check = await tx.check.findFirst({ where: { id: checkId, projectId: actor.projectId } });
  if (check === null || !setsOfVisit(visit).has(check.setId))
    throw new Refused('That check is not of the set this visit is made against.');
  const sameVisit = check.visitKind === visit.kind && check.localVisit === visit.localVisit;
  if (visit.kind !== 'final' && !sameVisit) throw new Refused('That check belongs to another kind of visit.');
  return check;
}

/** The row of a finding and its line in the log; what it takes was judged before. */
export async function addFinding(
  { tx, actor, at, append }: UseCase,
  finding: Pick<RecordFinding, 'visitId' | 'checkId' | 'clientKey' | 'result' | 'reason' | 'location'> & {
    readonly found: Date;
    readonly place?: Place | null;
  },
): Promise<string> {
  const findingId = randomUUID();
  const { projectId } = actor;
  const { visitId, checkId, clientKey, result, reason, location, found } = finding;
  const { sheetId = null, square = '' } = finding.place ?? {};
  const said = { visitId, checkId, clientKey, result, reason, location, sheetId, square };
  await tx.finding.create({
    data: { id: findingId, projectId, ...said, byId: actor.personId, at: found, receivedAt: at },
  });
  await append('finding.recorded', { findingId, ...said, at: found.toISOString() });
  return findingId;
}

/**
 * Adds a finding to an open visit; never changes one. The files' bytes are committed by the caller beforehand.
 *
 * @throws Invalid where a correction or "not applicable" has no reason, a text can't be kept, or the form was sent
 * before and said something else then
 * @throws Refused where the visit is closed, or the check belongs to another set or another kind of visit
 */
export async function recordFinding(
  deps: RecordDeps,
  actor: Actor,
  input: RecordFinding,
): Promise<RecordedFinding> {
  const { reason, location } = findingTexts(input);
  return useCase(deps, actor, 'finding.record', async (use) => {
    const { tx, at } = use;
    const { visitId, checkId, clientKey, result } = input;
    const visit = await findVisit(use, visitId);
    const there = await tx.finding.findUnique({
      where: { visitId_clientKey: { visitId, clientKey } },
      include: { check: { select: { title: true } } },
    });
    if (there !== null) {
      const same =
        there.checkId === checkId &&
        there.result === result &&
        there.reason === reason &&
        there.location === location;
      if (same) return { findingId: there.id, repeated: true, title: there.check.title };
      // Back, another button, the same form: never dropped in silence, never taken for the first press.
      throw new Invalid({
        [`reason.${checkId}`]: `This form was sent before, as “${there.result.replace('_', ' ')}”. Look at what stands now; to change it, send it once more.`,
      });
    }
    if (visit.closing !== null) throw new Refused(`Visit ${visit.number} is closed; open another one.`);
    const check = await checkForVisit(use, visit, checkId);
    const found = input.at !== undefined && input.at < at ? input.at : at;
    const said = { checkId, clientKey, result, reason, location };
    const place = input.place ?? null;
    if (place !== null) await judgePlace(use, visit, checkId, place);
    const findingId = await addFinding(use, { visitId, ...said, found, place });
    await recordAttachments(use, {
      files: input.files,
      caption: check.title,
      to: { subject: 'finding', subjectId: findingId },
    });
    return { findingId, repeated: false, title: check.title };
  });
}

const LONGEST_PORTION = 500;
const LONGEST_NAME = 80;

/** The texts of a closing, trimmed. @throws Invalid at the fields that can't be kept */
function closingTexts(input: Closing): Closing {
  const portion = prose(input.portion, 'portion');
  const summary = prose(input.summary, 'summary');
  const signedName = prose(input.signedName, 'signedName');
  if (portion.length > LONGEST_PORTION)
    throw new Invalid({ portion: `Use at most ${LONGEST_PORTION} characters.` });
  if (signedName.length > LONGEST_NAME)
    throw new Invalid({ signedName: `Use at most ${LONGEST_NAME} characters.` });
  return { outcome: input.outcome, portion, summary, signedName };
}

/**
 * Closes a visit; from then on it is immutable. The same closing from the same person again (a double tap) adds nothing.
 *
 * @throws Invalid with a sentence for each field where the outcome does not fit the findings
 * @throws Refused where it was closed already
 */
export async function closeVisit(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly visitId: string } & Closing,
): Promise<void> {
  const closing = closingTexts(input);
  await useCase(deps, actor, 'visit.close', async (use) => {
    const { tx, at, append } = use;
    const { projectId, personId } = use.actor;
    const visit = await findVisit(use, input.visitId);
    const { visitId } = input;
    const { outcome, portion, summary, signedName } = closing;
    if (visit.closing !== null) {
      const { closing: stands } = visit;
      if (
        stands.closedById === personId &&
        stands.outcome === outcome &&
        stands.portion === portion &&
        stands.summary === summary &&
        stands.signedName === signedName
      )
        return;
      throw new Refused(
        `Visit ${visit.number} is closed already, as “${stands.outcome.replaceAll('_', ' ')}”. Open another visit for what was found since.`,
      );
    }
    const set = setInForce(visit);
    const newest = await setForChecklist(tx, projectId, visit.openingId);
    // Who could not look, or stops the work, closes at once.
    const looked = outcome === 'passed' || outcome === 'partial' || outcome === 'correction_needed';
    if (looked && newest !== null && choiceIsOpen(visit, newest)) {
      throw new Invalid({
        set: `Set ${newest.number} was issued during this visit. Choose first whether you go on with it.`,
      });
    }
    const statuses = checkStatuses(
      set.number,
      await checksOfSet(tx, set.setId),
      await findingsOfOpening(tx, projectId, visit.openingId),
    );
    const visitKey = keyOfVisit(visit);
    const title = visitName(await planOf(tx, projectId, visit.planNumber), visitKey);
    const own = checksOfVisit(visitKey, statuses);
    const withoutPhoto = await titlesWithoutPhoto(use, own);
    const problems = closingProblems({ title, own, withoutPhoto }, closing);
    if (Object.keys(problems).length > 0) throw new Invalid(problems);
    await tx.visitClosing.create({
      data: { visitId, projectId, outcome, portion, summary, signedName, closedById: personId, closedAt: at },
    });
    await append('visit.closed', { visitId, outcome, portion, summary, signedName });
  });
}

/** Checks that ask for a photo, were looked at, and have none. */
async function titlesWithoutPhoto({ tx, actor }: UseCase, own: readonly CheckStatus[]): Promise<string[]> {
  const findings = own.flatMap(({ finding }) => (finding === null ? [] : [finding]));
  const photosBy = await photosOfFindings(tx, actor, findings);
  return own.filter((status) => lacksPhoto(status, photosBy)).map((status) => status.title);
}

/** The contractor says a correction is done. The finding stands until the inspector looks again. */
export async function answerCorrection(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly findingId: string;
    readonly note: string;
    /** Checks of the same visit that passed and were disturbed by putting it right. */
    readonly disturbs?: readonly string[];
    readonly files: readonly UploadedFile[];
  },
): Promise<void> {
  const note = prose(input.note, 'note');
  if (note === '') throw new Invalid({ note: 'Say what was done.' });
  await useCase(deps, actor, 'correction.answer', async (use) => {
    const { tx, at, append } = use;
    const { projectId, personId } = use.actor;
    const { findingId } = input;
    const finding = await tx.finding.findFirst({
      where: { id: findingId, projectId },
      include: { visit: { select: { openingId: true } } },
    });
    if (finding?.result !== 'correction') throw new NotFound('That correction');
    const disturbs = [...new Set(input.disturbs ?? [])].sort();
    const known = await tx.check.count({
      where: { id: { in: disturbs }, projectId, set: { openingId: finding.visit.openingId } },
    });
    if (known !== disturbs.length) throw new NotFound('That check');
    const answerId = randomUUID();
    await tx.correctionAnswer.create({
      data: { id: answerId, projectId, findingId, note, byId: personId, at },
    });
    await tx.correctionDisturbed.createMany({
      data: disturbs.map((checkId) => ({ answerId, checkId })),
    });
    await append('correction.answered', { answerId, findingId, note, disturbs });
    await recordAttachments(use, {
      files: input.files,
      caption: note.slice(0, 300),
      to: { subject: 'correction_answer', subjectId: answerId },
    });
  });
}
