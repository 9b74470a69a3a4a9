import type { Actor } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps, type UseCase } from '../../record/use-case.ts';
import { setInForce, withSets } from '../visits/set-in-force.ts';
import { checksOfSet } from '../store.ts';
import { addFinding } from '../visits/service.ts';
import { placeFor, type OpenVisit } from './rules.ts';
import { namesOfPeople } from '../../people/names.ts';

type Reader = Parameters<typeof checksOfSet>[0] & Pick<PrismaClient, 'phoneFinding'>;

/** Findings of an opening that came after their visit was closed; those nobody has placed or set aside come first. */
export async function lateFindings(reader: Reader, projectId: string, openingId: string) {
  const rows = await reader.phoneFinding.findMany({
    where: { projectId, findingId: null, visit: { openingId } },
    orderBy: [{ at: 'asc' }, { receivedAt: 'asc' }],
    include: {
      check: true,
      visit: { select: { number: true, set: { select: { number: true } } } },
      photos: { include: { arrival: true }, orderBy: { ordinal: 'asc' } },
      placing: { include: { finding: { select: { visit: { select: { number: true } } } } } },
    },
  });
  const names = await namesOfPeople(
    reader,
    rows.flatMap((row) => [row.byId, row.placing?.byId ?? row.byId]),
  );
  return rows
    .map((row) => ({
      ...row,
      byName: names.get(row.byId) ?? '',
      placedByName: names.get(row.placing?.byId ?? '') ?? '',
      photosMissing: row.photos.filter((photo) => photo.arrival === null).length,
    }))
    .sort((one, other) => Number(one.placing !== null) - Number(other.placing !== null));
}

/** How many of them wait for an inspector. */
export async function lateWaiting(
  reader: Pick<PrismaClient, 'phoneFinding'>,
  projectId: string,
  openingId: string,
): Promise<number> {
  return reader.phoneFinding.count({
    where: { projectId, findingId: null, placing: null, visit: { openingId } },
  });
}

/** The open visits of an opening with the checks that each can take findings on. */
export async function openVisits(reader: Reader, projectId: string, openingId: string): Promise<OpenVisit[]> {
  const visits = await reader.visit.findMany({
    where: { projectId, openingId, closing: null },
    include: withSets,
  });
  return Promise.all(
    visits.map(async (visit) => ({
      visitId: visit.id,
      number: visit.number,
      kind: visit.kind,
      checks: await checksOfSet(reader, setInForce(visit).setId),
    })),
  );
}

async function findLate({ tx, actor }: UseCase, phoneFindingId: string) {
  const late = await tx.phoneFinding.findFirst({
    where: { id: phoneFindingId, projectId: actor.projectId, findingId: null },
    include: {
      check: true,
      placing: true,
      visit: { select: { openingId: true, number: true } },
    },
  });
  if (late === null) throw new NotFound('That finding');
  return late;
}

/**
 * Places a finding that came late into an open visit: it becomes a finding there, at the time it was found and
 * with its photos; both names are shown, who found it and who placed it. Pressed twice, it is placed once.
 *
 * @throws Refused where no open visit takes it, or the version looked at is not the approved one any more
 */
export async function placeLate(deps: RecordDeps, actor: Actor, phoneFindingId: string): Promise<void> {
  await useCase(deps, actor, 'finding.record', async (use) => {
    const { tx, at, append } = use;
    const { projectId, personId } = use.actor;
    const late = await findLate(use, phoneFindingId);
    if (late.placing !== null) {
      if (late.placing.findingId !== null) return;
      throw new Refused('It was set aside meanwhile.');
    }
    const place = placeFor(
      { key: late.check.key, versionId: late.check.versionId ?? '', visitKind: late.check.visitKind },
      await openVisits(tx, projectId, late.visit.openingId),
    );
    if (place.is === 'no visit') throw new Refused('No visit of this kind is open: begin one first.');
    if (place.is !== 'fits')
      throw new Refused('What it was found on is not in the set in force any more: look again.');
    const { checkId, result, reason, location, sheetId, square, id: clientKey } = late;
    const { visitId } = place;
    const said = { checkId: place.checkId, clientKey, result, reason, location };
    const onDrawing = sheetId === null ? null : { sheetId, square };
    const findingId = await addFinding(use, { visitId, ...said, place: onDrawing, found: late.at });
    const reasonPlaced = checkId === place.checkId ? '' : 'The version is the same in the later set.';
    await tx.latePlacing.create({
      data: { phoneFindingId, projectId, findingId, reason: reasonPlaced, byId: personId, at },
    });
    await append('late.placed', { phoneFindingId, findingId, reason: reasonPlaced });
  });
}

/** Leaves a late finding out of every visit, with the reason; it stays in the record. Pressed twice, done once. */
export async function setLateAside(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly phoneFindingId: string; readonly reason: string },
): Promise<void> {
  const { phoneFindingId } = input;
  const field = `reason.${phoneFindingId}`;
  const reason = prose(input.reason, field);
  if (reason === '') throw new Invalid({ [field]: 'Say why it is set aside.' });
  await useCase(deps, actor, 'finding.record', async (use) => {
    const { tx, at, append } = use;
    const { projectId, personId: byId } = use.actor;
    const late = await findLate(use, phoneFindingId);
    if (late.placing !== null) {
      if (late.placing.findingId === null && late.placing.reason === reason) return;
      throw new Refused('Somebody placed it or set it aside meanwhile.');
    }
    await tx.latePlacing.create({ data: { phoneFindingId, projectId, findingId: null, reason, byId, at } });
    await append('late.setAside', { phoneFindingId, findingId: null, reason });
  });
}
