import type { FindingOnCheck } from '../../inspection/status.ts';
import { keyOfVisit, visitName, type PlanContent } from '../../inspection/plan/plan.ts';
import type { VisitRow } from '../../inspection/store.ts';

/** How visits and findings are told to programs. */
export function findingLine(finding: FindingOnCheck) {
  const { findingId, checkId, visitNumber, setNumber, result, reason, location, byName, at } = finding;
  return {
    findingId,
    checkId,
    visitNumber,
    setNumber,
    result,
    reason,
    location,
    byName,
    at: at.toISOString(),
    answers: finding.answers.map((answer) => ({ ...answer, at: answer.at.toISOString() })),
  };
}

export function visitLine(visit: VisitRow, plan: PlanContent) {
  const { closing } = visit;
  return {
    visitId: visit.id,
    openingId: visit.openingId,
    setNumber: visit.set.number,
    number: visit.number,
    kind: visit.kind,
    name: visitName(plan, keyOfVisit(visit)),
    openedAt: visit.openedAt.toISOString(),
    closing: closing && {
      outcome: closing.outcome,
      portion: closing.portion,
      summary: closing.summary,
      signedName: closing.signedName,
      closedAt: closing.closedAt.toISOString(),
    },
  };
}
