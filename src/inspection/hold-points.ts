import { joined } from '../record/prose.ts';
import { isSettled, type CheckStatus } from './status.ts';

export interface HoldPointState {
  readonly step: string;
  readonly released: boolean;
  /** What is missing, by title. */
  readonly missing: readonly string[];
  /** Inspections that would guard the step and that this project does not have, with who decides instead. */
  readonly undecided: readonly UndecidedInspection[];
}

export interface UndecidedInspection {
  readonly visitName: string;
  readonly decidedBy: 'engineer' | 'authority';
  readonly missing: readonly string[];
}

/** A step is held until every check that guards it passes, does not apply, or was accepted in its inspection's stead. */
export function holdPointStates(statuses: readonly CheckStatus[]): HoldPointState[] {
  const steps = [...new Set(statuses.map((status) => status.holdPoint))].filter((step) => step !== '');
  return steps.map((step) => stateOf(step, statuses));
}

function stateOf(step: string, statuses: readonly CheckStatus[]): HoldPointState {
  const guards = statuses.filter((status) => status.holdPoint === step);
  const open = guards.filter((status) => !isSettled(status));
  const undecided = new Map<string, UndecidedInspection>();
  for (const { switchedOff, title } of open) {
    if (!switchedOff) continue;
    const there = undecided.get(switchedOff.visitName);
    undecided.set(switchedOff.visitName, { ...switchedOff, missing: [...(there?.missing ?? []), title] });
  }
  return {
    step,
    released: open.length === 0,
    missing: open.map((status) => status.title),
    undecided: [...undecided.values()],
  };
}

/** May a step start? `asked` says in one sentence what it waits for; '' where nothing holds it. */
export interface StepAnswer {
  readonly mayStart: boolean;
  readonly waitsFor: string;
  readonly missing: readonly string[];
  readonly undecided: readonly UndecidedInspection[];
}

/**
 * Asks whether a step (`holdPoints` of checks/check.ts) may start, as the list of the set in force stands. A step that no
 * check guards is *not* free: the set then says nothing about it, and the answer says so. Pure; for whoever logs work,
 * plans it or shows it.
 *
 * @param statuses `checkStatuses` of the newest set, all of them; null where there is no approved set.
 * @param besides What holds the step besides its checks (`reasonsToHold`), a sentence for each.
 */
export function mayStart(
  step: string,
  statuses: readonly CheckStatus[] | null,
  besides: readonly string[] = [],
): StepAnswer {
  if (statuses === null) {
    const waitsFor = `There is no approved set: nothing lets anybody ${step}.`;
    return { mayStart: false, waitsFor, missing: [], undecided: [] };
  }
  if (!statuses.some((status) => status.holdPoint === step)) {
    const waitsFor = `The approved set holds nothing that would let anybody ${step}.`;
    return { mayStart: false, waitsFor, missing: [], undecided: [] };
  }
  const { released, missing: open, undecided } = stateOf(step, statuses);
  const missing = [...besides, ...open];
  const free = released && besides.length === 0;
  return { mayStart: free, waitsFor: free ? '' : waitingWords(missing, undecided), missing, undecided };
}

function waitingWords(missing: readonly string[], undecided: readonly UndecidedInspection[]): string {
  return [`Waits for ${missing.length}: ${joined(missing)}.`, ...undecided.map(offWords)].join(' ');
}

function offWords({ visitName, decidedBy }: UndecidedInspection): string {
  const who = decidedBy === 'engineer' ? 'the engineer decides' : 'ask the authority having jurisdiction';
  return `“${visitName}” is switched off in this project: ${who}.`;
}

/** What a step waits for, in parts; null where one sentence (`waitsFor`) is enough. */
export function waitingParts({
  mayStart: free,
  missing,
  undecided,
}: StepAnswer): { heading: string; lacks: readonly string[] } | null {
  if (free || missing.length < 2) return null;
  return { heading: `Waits for ${missing.length} things`, lacks: [...missing, ...undecided.map(offWords)] };
}
