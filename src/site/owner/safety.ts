import type { VisitKind, VisitOutcome } from '../../database/generated/client.ts';

export interface ClosedVisit {
  readonly kind: VisitKind;
  readonly outcome: VisitOutcome;
  readonly closedAt: Date;
}

export interface SafetyWords {
  readonly state: 'stop' | 'nothing approved' | 'approved' | 'held up' | 'on the beam' | 'finished';
  readonly words: string;
}

/** Steps that the contractor logged as done, by their keys in ../sequence/steps.ts. */
export type LoggedSteps = readonly string[];

/** What this record can say to "is it safe?". It sees no house: what to watch for stands beside it on the page. */
export function safetyWords(
  setNumber: number,
  visits: readonly ClosedVisit[],
  logged: LoggedSteps = [],
): SafetyWords {
  const inOrder = [...visits].sort((one, other) => one.closedAt.getTime() - other.closedAt.getTime());
  if (inOrder.at(-1)?.outcome === 'stop_work') {
    return {
      state: 'stop',
      words:
        'The inspector has stopped the work. Stay out of that part of the house and call your contractor.',
    };
  }
  if (inOrder.findLast((visit) => visit.kind === 'final')?.outcome === 'passed') {
    return { state: 'finished', words: 'The last inspection has passed. The new beam carries the house.' };
  }
  if (logged.includes('shoring_out')) {
    return {
      state: 'on the beam',
      words:
        'The temporary supports are out and the new beam carries the house, as your contractor wrote down. The last inspection is still to come.',
    };
  }
  const supported = logged.includes('shoring') || logged.includes('wall_out');
  if (supported || inOrder.findLast((visit) => visit.kind === 'shoring')?.outcome === 'passed') {
    return {
      state: 'held up',
      words:
        'Temporary supports may be holding up part of the house. Do not move, lean on or store anything against them, and do not sleep in the rooms over or under them.',
    };
  }
  if (setNumber > 0) {
    return {
      state: 'approved',
      words:
        'The engineer has approved the plan. The wall still does its work: it may come out only when the temporary supports stand and the inspector has looked at them.',
    };
  }
  return {
    state: 'nothing approved',
    words:
      'No plan has been approved yet. The wall holds up part of the house: nothing is to be taken out of it.',
  };
}

const outcomes: Readonly<Record<VisitOutcome, string>> = {
  passed: 'What was looked at is in order.',
  partial: 'Part of the work may go on; the rest is looked at again.',
  correction_needed: 'Something has to be put right. The inspector comes again.',
  not_ready: 'The work was not ready to be looked at yet.',
  no_access: 'The inspector could not get in.',
  stop_work: 'The inspector stopped the work.',
};

/** How a visit ended, without the inspector's own words: those are for the trades. */
export function outcomeWords(outcome: VisitOutcome): string {
  return outcomes[outcome];
}
