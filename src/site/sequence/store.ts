import type { PrismaClient } from '../../database/generated/client.ts';
import { movedDays, sequenceContentSchema, stepsOf, type SequencePlan } from './plan.ts';
import type { LoggedWork } from './standing.ts';
import { namesOfPeople } from '../../people/names.ts';

type Reader = Pick<PrismaClient, 'sequencePlan' | 'workEntry' | 'person'>;

const noPlan: SequencePlan = { number: 0, steps: [] };

/** The plan in force; without anything planned where there is none. */
export async function sequencePlanOf(
  reader: Pick<Reader, 'sequencePlan'>,
  openingId: string,
): Promise<SequencePlan> {
  const row = await reader.sequencePlan.findFirst({
    where: { openingId },
    orderBy: { number: 'desc' },
    select: { number: true, content: true },
  });
  return row === null ? noPlan : { number: row.number, ...read(row.content) };
}

/** For each step whose day moved: what it was told as before, and why it moved, of the last time. */
export async function lastMoves(
  reader: Pick<Reader, 'sequencePlan'>,
  openingId: string,
): Promise<Readonly<Record<string, { readonly from: string; readonly reason: string }>>> {
  return (await planWithMoves(reader, openingId)).moves;
}

/** The plan in force with those moves, in one query. */
export async function planWithMoves(
  reader: Pick<Reader, 'sequencePlan'>,
  openingId: string,
): Promise<{
  readonly plan: SequencePlan;
  readonly moves: Readonly<Record<string, { readonly from: string; readonly reason: string }>>;
}> {
  const rows = await reader.sequencePlan.findMany({
    where: { openingId },
    orderBy: { number: 'desc' },
    take: 50,
    select: { number: true, content: true, reason: true },
  });
  const [last] = rows;
  const moves: Record<string, { from: string; reason: string }> = {};
  for (const [index, { content, reason }] of rows.entries()) {
    const before = rows[index + 1];
    if (before === undefined) break;
    for (const { key, from } of movedDays(read(before.content).steps, read(content).steps)) {
      moves[key] ??= { from, reason };
    }
  }
  const plan = last === undefined ? noPlan : { number: last.number, ...read(last.content) };
  return { plan, moves };
}

export interface ToldMove {
  /** The step to somebody who is no builder. */
  readonly plain: string;
  readonly from: string;
  /** '' where no day is told any more. */
  readonly to: string;
}

/** The days that a plan moved against the one before it, in the order of the work; steps that the job does not have left out. */
export async function movesOfPlan(
  reader: Pick<Reader, 'sequencePlan'>,
  openingId: string,
  number: number,
): Promise<ToldMove[]> {
  const rows = await reader.sequencePlan.findMany({
    where: { openingId, number: { in: [number - 1, number] } },
    orderBy: { number: 'asc' },
    select: { number: true, content: true },
  });
  const [before, after] = rows.map(({ content, ...row }) => ({ ...row, ...read(content) }));
  if (before === undefined || after === undefined) return [];
  const moves = movedDays(before.steps, after.steps);
  return stepsOf(after).flatMap(({ key, plain, planned }) => {
    const move = moves.find((one) => one.key === key);
    return move === undefined || planned.off ? [] : [{ plain, from: move.from, to: move.to }];
  });
}

function read(content: string) {
  return sequenceContentSchema.parse(JSON.parse(content));
}

/** All that was logged of an opening, oldest first. Two queries, however many. */
export async function workOfOpening(
  reader: Pick<Reader, 'workEntry' | 'person'>,
  projectId: string,
  openingId: string,
): Promise<LoggedWork[]> {
  const rows = await reader.workEntry.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'asc' },
    include: { withdrawal: true },
  });
  const ids = rows.flatMap(({ byId, withdrawal }) => [
    byId,
    ...(withdrawal === null ? [] : [withdrawal.byId]),
  ]);
  const names = await namesOfPeople(reader, ids);
  const nameOf = (id: string) => names.get(id) ?? '';
  return rows.map(({ id, outOfOrder, byId, withdrawal, ...row }) => ({
    workEntryId: id,
    number: row.number,
    step: row.step,
    title: row.title,
    doneOn: row.doneOn,
    who: row.who,
    note: row.note,
    at: row.at,
    outOfOrder: JSON.parse(outOfOrder) as string[],
    byName: nameOf(byId),
    withdrawal:
      withdrawal === null
        ? null
        : { reason: withdrawal.reason, at: withdrawal.at, byName: nameOf(withdrawal.byId) },
  }));
}
