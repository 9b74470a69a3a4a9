import type { PrismaClient } from '../../database/generated/client.ts';
import { weekdayWords } from '../sequence/day.ts';
import { stepsOf, type SequencePlan } from '../sequence/plan.ts';
import { planWithMoves } from '../sequence/store.ts';

export interface OwnersDay {
  /** 2026-05-09 */
  readonly day: string;
  readonly words: string;
  readonly dayWords: string;
  readonly done: boolean;
  /** 'It was to be Sat, May 9, 2026. Why it moved: the yard sent the wrong plies'; '' where the day stands as first told. */
  readonly movedWords: string;
}

export interface OwnersDays {
  readonly days: readonly OwnersDay[];
  /** What those who live there will notice, from today on, nearest first. */
  readonly notices: readonly { readonly dayWords: string; readonly words: string }[];
  /** Keys of the steps that are logged as done. */
  readonly loggedSteps: readonly string[];
}

/** Planned and done days in plain words; nothing of who does it and of what stands against it. Pure. */
export function ownersDays(
  plan: SequencePlan,
  work: readonly {
    readonly step: string;
    readonly doneOn: string;
    /** Null where the entry speaks. */
    readonly withdrawal: object | null;
  }[],
  moves: Readonly<Record<string, { readonly from: string; readonly reason: string }>>,
  today: string,
): OwnersDays {
  const steps = stepsOf(plan)
    .filter(({ planned }) => !planned.off)
    .map((step) => ({
      ...step,
      entry: work.findLast((entry) => entry.step === step.key && entry.withdrawal === null) ?? null,
    }));
  return {
    loggedSteps: steps.filter(({ entry }) => entry !== null).map(({ key }) => key),
    days: steps
      .flatMap(({ key, plain, planned, entry }) => {
        const day = entry?.doneOn ?? planned.plannedOn;
        if (day === '') return [];
        const moved = entry === null ? moves[key] : undefined;
        return [
          {
            day,
            words: plain,
            dayWords: weekdayWords(day),
            done: entry !== null,
            movedWords:
              moved === undefined
                ? ''
                : `It was to be ${weekdayWords(moved.from)}. Why it moved: ${moved.reason}`,
          },
        ];
      })
      // In the order of the calendar, steps of one day in the order of the work.
      .sort((one, other) => one.day.localeCompare(other.day)),
    notices: steps
      .filter(({ entry, planned }) => entry === null && planned.notice !== '' && planned.plannedOn >= today)
      .sort((one, other) => one.planned.plannedOn.localeCompare(other.planned.plannedOn))
      .map(({ planned }) => ({ dayWords: weekdayWords(planned.plannedOn), words: planned.notice })),
  };
}

/** What `ownersDays` are told from. */
export async function readOwnersWork(
  reader: Pick<PrismaClient, 'sequencePlan' | 'workEntry'>,
  projectId: string,
  openingId: string,
) {
  const [planned, work] = await Promise.all([
    planWithMoves(reader, openingId),
    reader.workEntry.findMany({
      where: { projectId, openingId },
      orderBy: { number: 'asc' },
      select: { step: true, doneOn: true, withdrawal: { select: { workEntryId: true } } },
    }),
  ]);
  return { ...planned, work };
}
