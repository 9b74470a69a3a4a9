import type { Actor } from '../../actor.ts';
import { dayText } from '../../house-time.ts';
import { NotFound } from '../../problems.ts';
import type { RowWords } from '../../record/schedule/document.ts';
import { readSchedule, readSetSchedule } from '../../record/schedule/read.ts';
import { zoneOfHouse } from '../../record/projects/house-zone.ts';
import { withFullStop } from '../../record/prose.ts';
import { stateWords } from '../../record/items/state.ts';
import type { RecordDeps } from '../../record/use-case.ts';

/** The nailing and fastener schedule in words ready to print. */
export interface ScheduleSheet {
  readonly house: string;
  readonly address: string;
  readonly timeZone: string;
  readonly opening: { readonly ordinal: number; readonly name: string };
  readonly basis: string;
  /** Of the set; null for a working state. */
  readonly hash: string | null;
  readonly setNumber: number | null;
  readonly warnings: readonly string[];
  /** The owner reads what is built, not the arithmetic behind it. */
  readonly withResults: boolean;
  readonly rows: readonly (RowWords & { readonly state: string })[];
  readonly madeAt: Date;
}

/** As an issued set froze it. @throws NotFound for a set of another project */
export async function scheduleOfSet(deps: RecordDeps, actor: Actor, setId: string): Promise<ScheduleSheet> {
  const [found, timeZone] = await Promise.all([
    readSetSchedule(deps, actor, { setId }),
    zoneOfHouse(deps.prisma, actor.projectId),
  ]);
  if (found === null) throw new NotFound('That set');
  const { set, rows } = found;
  const { project, opening, issuedBy, gaps } = set.content;
  return {
    house: project.name,
    address: project.address,
    timeZone,
    opening,
    basis: `Approved set ${set.number}, issued ${dayText(set.issuedAt, timeZone)} by ${issuedBy.name}`,
    hash: set.hash,
    setNumber: set.number,
    warnings: [
      ...(set.supersededBy === null
        ? []
        : [`Superseded: set ${set.supersededBy} is in force. Do not build or inspect from this schedule.`]),
      ...set.flags.map((flag) => flag.sentence),
      ...gaps
        .filter(({ kind }) => kind === 'fastening')
        .map((gap) => withFullStop(`Left open: ${gap.sentence}`)),
    ],
    withResults: actor.role !== 'owner',
    rows: rows.map(({ mark, ...row }) => ({
      ...row,
      state: `${mark.word} by ${mark.byName}, ${dayText(new Date(mark.at), timeZone)}`,
    })),
    madeAt: deps.clock(),
  };
}

/** As the newest versions have it: a working document. @throws NotFound for another project's opening */
export async function scheduleOfOpening(
  deps: RecordDeps,
  actor: Actor,
  openingId: string,
): Promise<ScheduleSheet> {
  const { opening, rows } = await readSchedule(deps, actor, { openingId });
  const { name, address, timeZone } = await deps.prisma.project.findUniqueOrThrow({
    where: { id: actor.projectId },
    select: { name: true, address: true, timeZone: true },
  });
  const now = deps.clock();
  return {
    house: name,
    address,
    timeZone,
    opening,
    basis: `Working document of ${dayText(now, timeZone)}: the newest state of every row, approved or not`,
    hash: null,
    setNumber: null,
    warnings: ['Not approved as a whole. Build from the schedule of an issued set.'],
    withResults: true,
    rows: rows.map(({ standing, ...row }) => ({
      ...row,
      state: `${stateWords(standing.state)}${standing.stale.length === 0 ? '' : '; out of date'}`,
    })),
    madeAt: now,
  };
}
