import type { Actor } from '../../actor.ts';
import { shownName } from '../../attachments/plain-words.ts';
import type { PhoneFinding } from '../../database/generated/client.ts';
import { Conflict, Invalid, NotFound, Refused } from '../../problems.ts';
import { useCase, type RecordDeps, type UseCase } from '../../record/use-case.ts';
import { addFinding, checkForVisit, findingTexts, findVisit } from '../visits/service.ts';
import { judgePhoneTime, saysTheSame, type PhoneTimeWord } from './rules.ts';
import { phoneFindingSchema, type PhoneFindingSent } from './schemas.ts';

/** What a phone is told about one finding; the same for every delivery of it. */
export type Delivered =
  | {
      readonly id: string;
      /** Kept in its visit, or late: the visit was closed, an inspector places it. */
      readonly is: 'kept' | 'late';
      readonly findingId: string | null;
      readonly at: string;
      readonly timeWord: PhoneTimeWord;
      readonly receivedAt: string;
      /** Its photos came with the form that it was first sent with; none is waited for. */
      readonly photosAreIn: boolean;
    }
  | { readonly id: string; readonly is: 'refused'; readonly sentence: string };

/** A finding names one before it that has not arrived. */
export class OutOfOrder extends Conflict<null> {
  constructor() {
    super('A finding made before these has not arrived yet; send that one first.', null);
  }
}

export interface Delivery {
  readonly visitId: string;
  /** The finding of this visit that arrived before these; null for the phone's first. */
  readonly after: string | null;
  readonly phoneNowAt: Date;
  readonly findings: readonly ({ readonly id: string } & Readonly<Record<string, unknown>>)[];
}

/**
 * Takes in what a phone kept, in its order, each finding in a transaction of its own: what was taken in before a
 * restart is answered the same when it comes again.
 *
 * @throws NotFound where the visit is not of the actor's project
 * @throws OutOfOrder where `after` has not arrived; nothing is taken in then
 */
export async function deliverFindings(
  deps: RecordDeps,
  actor: Actor,
  delivery: Delivery,
): Promise<Delivered[]> {
  const { visitId, phoneNowAt } = delivery;
  let { after } = delivery;
  const answers: Delivered[] = [];
  for (const sent of delivery.findings) {
    const parsed = phoneFindingSchema.safeParse(sent);
    if (!parsed.success) {
      answers.push({ id: sent.id, is: 'refused', sentence: parsed.error.issues[0]?.message ?? '' });
      continue;
    }
    const answer = await deliverOne(deps, actor, { visitId, after, phoneNowAt, finding: parsed.data });
    if (answer.is !== 'refused') after = answer.id;
    answers.push(answer);
  }
  return answers;
}

interface One {
  readonly visitId: string;
  readonly after: string | null;
  readonly phoneNowAt: Date;
  readonly finding: PhoneFindingSent;
}

async function deliverOne(deps: RecordDeps, actor: Actor, one: One): Promise<Delivered> {
  try {
    return await useCase(deps, actor, 'finding.record', (use) => takeIn(use, one));
  } catch (error) {
    if (error instanceof Invalid || error instanceof Refused) {
      return { id: one.finding.id, is: 'refused', sentence: error.message };
    }
    throw error;
  }
}

async function takeIn(use: UseCase, { visitId, after, phoneNowAt, finding }: One): Promise<Delivered> {
  const { tx, at: receivedAt } = use;
  const { projectId, personId } = use.actor;
  const visit = await findVisit(use, visitId);
  const { id, checkId, result } = finding;
  const { sheetId = null, square = '' } = finding.place ?? {};
  const said = { checkId, result, ...findingTexts(finding), sheetId, square };

  const there = await tx.phoneFinding.findUnique({ where: { id } });
  if (there !== null) {
    if (there.projectId !== projectId || there.byId !== personId || there.visitId !== visitId)
      throw new Refused('That id is taken by another finding.');
    if (!saysTheSame(there, said))
      throw new Refused('This finding was sent before and said something else then.');
    return answerOf(there);
  }
  // The form of the page made the same id: it arrived, and only its answer was lost.
  const byForm = await tx.finding.findUnique({ where: { visitId_clientKey: { visitId, clientKey: id } } });
  if (byForm !== null) {
    if (byForm.byId !== personId || !saysTheSame(byForm, said))
      throw new Refused('This finding was sent before and said something else then.');
    const { id: findingId, at, receivedAt: received } = byForm;
    return {
      id,
      is: 'kept',
      findingId,
      at: at.toISOString(),
      timeWord: 'as_told',
      receivedAt: received.toISOString(),
      photosAreIn: true,
    };
  }

  const previous = await findPrevious(use, visitId, after);
  await checkForVisit(use, visit, checkId);
  if (sheetId !== null) await keptSheet(use, sheetId);
  const { at, word: timeWord } = judgePhoneTime({
    claimedAt: finding.at,
    phoneNowAt,
    receivedAt,
    openedAt: visit.openedAt,
    previousAt: previous?.at ?? null,
  });
  const findingId =
    visit.closing === null
      ? await addFinding(use, { visitId, ...said, place: finding.place, clientKey: id, found: at })
      : null;
  const row = await tx.phoneFinding.create({
    data: {
      id,
      projectId,
      visitId,
      ...said,
      byId: personId,
      claimedAt: finding.at,
      phoneNowAt,
      at,
      timeWord,
      receivedAt,
      findingId,
    },
  });
  await announcePhotos(use, finding);
  await use.append('finding.delivered', {
    phoneFindingId: id,
    findingId,
    visitId,
    ...said,
    claimedAt: finding.at.toISOString(),
    phoneNowAt: phoneNowAt.toISOString(),
    at: at.toISOString(),
    timeWord,
    photos: finding.photos.map(({ id: photoId, name, bytes }) => ({
      photoId,
      originalName: shownName(name),
      bytes,
    })),
  });
  return answerOf(row);
}

/**
 * A drawing that a phone kept may have been superseded while it was away: what was found there still was found there.
 *
 * @throws Refused where the project has no such file
 */
async function keptSheet({ tx, actor }: UseCase, sheetId: string): Promise<void> {
  const there = await tx.attachment.count({ where: { id: sheetId, projectId: actor.projectId } });
  if (there === 0) throw new Refused('That drawing is not in this project.');
}

/** @throws OutOfOrder where it has not arrived */
async function findPrevious(
  { tx, actor: { projectId, personId } }: UseCase,
  visitId: string,
  after: string | null,
): Promise<{ readonly at: Date } | null> {
  if (after === null) return null;
  const where = { projectId, visitId, byId: personId };
  const previous =
    (await tx.phoneFinding.findFirst({ where: { id: after, ...where } })) ??
    (await tx.finding.findFirst({ where: { clientKey: after, ...where } }));
  if (previous === null) throw new OutOfOrder();
  return previous;
}

async function announcePhotos({ tx, actor }: UseCase, { id, photos }: PhoneFindingSent): Promise<void> {
  const ids = photos.map((photo) => photo.id);
  const taken = await tx.phonePhoto.findFirst({ where: { id: { in: ids } }, select: { id: true } });
  if (taken !== null || new Set(ids).size < ids.length)
    throw new Refused('A photo of this finding has the id of another one.');
  await tx.phonePhoto.createMany({
    data: photos.map((photo, index) => ({
      id: photo.id,
      projectId: actor.projectId,
      phoneFindingId: id,
      ordinal: index + 1,
      originalName: shownName(photo.name),
      bytes: BigInt(photo.bytes),
    })),
  });
}

function answerOf(row: PhoneFinding): Delivered {
  return {
    id: row.id,
    is: row.findingId === null ? 'late' : 'kept',
    findingId: row.findingId,
    at: row.at.toISOString(),
    timeWord: row.timeWord,
    receivedAt: row.receivedAt.toISOString(),
    photosAreIn: false,
  };
}

/** @throws NotFound where this person announced no such photo */
export async function findOwnPhoto(tx: Pick<UseCase['tx'], 'phonePhoto'>, actor: Actor, photoId: string) {
  const photo = await tx.phonePhoto.findFirst({
    where: { id: photoId, projectId: actor.projectId, finding: { byId: actor.personId } },
    include: {
      arrival: true,
      finding: { include: { placing: true, check: { select: { title: true } } } },
    },
  });
  if (photo === null) throw new NotFound('That photo');
  return photo;
}
