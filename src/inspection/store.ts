import type { PrismaClient } from '../database/generated/client.ts';
import { acceptancesOf } from './acceptance/store.ts';
import type { Plan } from './plan/plan.ts';
import { planOf } from './plan/store.ts';
import type { CheckOfSet, FindingOnCheck } from './status.ts';
import { underPlan } from './under-plan.ts';
import { namesOfPeople } from '../people/names.ts';

type Reader = Pick<
  PrismaClient,
  'check' | 'finding' | 'person' | 'visit' | 'approvedSet' | 'inspectionPlan' | 'holdAcceptance'
>;

export interface SetForChecklist {
  readonly setId: string;
  readonly number: number;
  readonly hash: string;
  readonly issuedAt: Date;
  readonly newestNumber: number;
}

/** The newest set of an opening, or the one with this number; null where there is none. */
export async function setForChecklist(
  reader: Reader,
  projectId: string,
  openingId: string,
  number?: number,
): Promise<SetForChecklist | null> {
  const sets = await reader.approvedSet.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'desc' },
    select: { id: true, number: true, hash: true, issuedAt: true },
  });
  const chosen = number === undefined ? sets[0] : sets.find((set) => set.number === number);
  if (chosen === undefined) return null;
  const { id: setId, ...rest } = chosen;
  return { setId, ...rest, newestNumber: sets[0]?.number ?? rest.number };
}

/**
 * The list of a set under the plan of inspections: in its order, without local requirements that are no longer asked
 * for, and with the engineer's word where an inspection is switched off.
 *
 * @param planNumber The plan to read it under, for what was worked through before; left out: the one in force.
 */
export async function checksOfSet(reader: Reader, setId: string, planNumber?: number): Promise<CheckOfSet[]> {
  const set = await reader.approvedSet.findUniqueOrThrow({
    where: { id: setId },
    select: { projectId: true, openingId: true },
  });
  const plan = await planOf(reader, set.projectId, planNumber);
  return checksUnderPlan(reader, { setId, ...set }, plan);
}

/** The same where set and plan are known, or the plan is being read. */
export async function checksUnderPlan(
  reader: Reader,
  set: { readonly setId: string; readonly projectId: string; readonly openingId: string },
  asked: Plan | Promise<Plan>,
): Promise<CheckOfSet[]> {
  const [rows, plan] = await Promise.all([
    reader.check.findMany({
      where: { setId: set.setId },
      orderBy: { ordinal: 'asc' },
      include: { version: { select: { number: true, item: { select: { title: true } } } } },
    }),
    asked,
  ]);
  const acceptances = plan.visits.every((visit) => visit.on)
    ? []
    : await acceptancesOf(reader, set.projectId, set.openingId);
  const checks = rows.map(({ id, version, versionId, ...row }) => ({
    ...row,
    checkId: id,
    versionId: versionId ?? '',
    versionNumber: version?.number ?? 0,
    about: version === null ? row.source : `${version.item.title}, version ${version.number}`,
  }));
  return underPlan(plan, checks, acceptances);
}

/** All findings of an opening, whatever set they were made against, with the contractor's answers, in a few queries. */
export async function findingsOfOpening(
  reader: Reader,
  projectId: string,
  openingId: string,
): Promise<FindingOnCheck[]> {
  const rows = await reader.finding.findMany({
    where: { projectId, visit: { openingId } },
    include: {
      check: {
        select: {
          key: true,
          versionId: true,
          version: { select: { number: true } },
          set: { select: { number: true } },
        },
      },
      visit: { select: { number: true } },
      sheet: { select: { id: true, caption: true, originalName: true } },
      answers: {
        orderBy: { at: 'asc' },
        include: { disturbed: { select: { check: { select: { key: true } } } } },
      },
      phone: { select: { photos: { where: { arrival: null }, select: { id: true } } } },
      placed: {
        select: {
          late: {
            select: { id: true, byId: true, photos: { where: { arrival: null }, select: { id: true } } },
          },
        },
      },
    },
  });
  const ids = new Set(
    rows.flatMap((row) => [
      row.byId,
      row.placed?.late.byId ?? row.byId,
      ...row.answers.map((answer) => answer.byId),
    ]),
  );
  const names = await namesOfPeople(reader, ids);
  return rows.map((row) => ({
    findingId: row.id,
    checkId: row.checkId,
    key: row.check.key,
    versionId: row.check.versionId ?? '',
    versionNumber: row.check.version?.number ?? 0,
    visitNumber: row.visit.number,
    setNumber: row.check.set.number,
    result: row.result,
    reason: row.reason,
    location: row.location,
    place:
      row.sheet === null
        ? null
        : {
            sheetId: row.sheet.id,
            sheetName: row.sheet.caption === '' ? row.sheet.originalName : row.sheet.caption,
            square: row.square,
          },
    byName: names.get(row.placed?.late.byId ?? row.byId) ?? '',
    at: row.at,
    receivedAt: row.receivedAt,
    ...(row.placed === null
      ? {}
      : { placedFromId: row.placed.late.id, placedByName: names.get(row.byId) ?? '' }),
    photosMissing: (row.phone ?? row.placed?.late)?.photos.length ?? 0,
    answers: row.answers.map(({ id, note, byId, at, disturbed }) => ({
      answerId: id,
      disturbed: disturbed.map(({ check }) => check.key),
      note,
      byName: names.get(byId) ?? '',
      at,
    })),
  }));
}

/** Visits of an opening that a page shows at a time. */
const VISITS = 30;
const withClosing = { closing: true, set: { select: { number: true } } } as const;

/** The visits of an opening, newest first, a page at a time; hand in `next` as `before`. */
export async function visitsPage(
  reader: Reader,
  projectId: string,
  openingId: string,
  before: number | null,
): Promise<{ readonly visits: readonly VisitRow[]; readonly next: number | null }> {
  const rows = await reader.visit.findMany({
    where: { projectId, openingId, ...(before === null ? {} : { number: { lt: before } }) },
    orderBy: { number: 'desc' },
    take: VISITS + 1,
    include: withClosing,
  });
  const visits = rows.slice(0, VISITS);
  return { visits, next: rows.length > VISITS ? (visits.at(-1)?.number ?? null) : null };
}

/** The visits that are open, and the last one closed of each kind, newest first: what now holds or goes on. */
export async function visitsOfNow(
  reader: Reader & Pick<PrismaClient, '$queryRaw'>,
  projectId: string,
  openingId: string,
): Promise<VisitRow[]> {
  const rows = await reader.$queryRaw<{ id: string }[]>`
    SELECT id FROM (
      SELECT DISTINCT ON (visit.kind) visit.id FROM visit JOIN visit_closing ON visit_closing.visit_id = visit.id
      WHERE visit.project_id = ${projectId}::uuid AND visit.opening_id = ${openingId}::uuid
      ORDER BY visit.kind, visit.number DESC
    ) closed
    UNION ALL
    SELECT id FROM visit
    WHERE project_id = ${projectId}::uuid AND opening_id = ${openingId}::uuid
      AND NOT EXISTS (SELECT 1 FROM visit_closing WHERE visit_closing.visit_id = visit.id)`;
  return reader.visit.findMany({
    where: { id: { in: rows.map(({ id }) => id) } },
    orderBy: { number: 'desc' },
    include: withClosing,
  });
}

/** The same, where all visits of the opening are there already, newest first. */
export function nowAmong(visits: readonly VisitRow[]): VisitRow[] {
  return visits.filter(
    (visit) =>
      visit.closing === null ||
      visits.find(({ kind, closing }) => kind === visit.kind && closing !== null) === visit,
  );
}

export type VisitRow = Awaited<ReturnType<typeof visitsOfOpening>>[number];

export async function visitsOfOpening(reader: Reader, projectId: string, openingId: string) {
  return reader.visit.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'desc' },
    include: withClosing,
  });
}
