import type { Acceptance } from './acceptance/store.ts';
import { LOCAL_REQUIREMENT, localCheckKeys, visitKeyOf, type Plan } from './plan/plan.ts';
import type { CheckOfSet } from './status.ts';

type Row = CheckOfSet & { readonly localVisit: string };

/**
 * A list as the plan of inspections has it: what is no longer asked for is left out, of two wordings of the same thing
 * the later one stays, the visits come in the plan's order, and a switched-off one is named as such. Pure.
 */
export function underPlan(
  plan: Plan,
  rows: readonly Row[],
  acceptances: readonly Acceptance[],
): CheckOfSet[] {
  const asked = localCheckKeys(plan);
  const wanted = rows.filter((row) => row.source !== LOCAL_REQUIREMENT || asked.has(row.key));
  const newest = new Map<string, string>();
  for (const { key, checkId } of wanted) newest.set(key.split('#')[0] ?? key, checkId);
  const place = new Map(plan.visits.map((visit, index) => [visit.key, index]));
  const planned = new Map(plan.visits.map((visit) => [visit.key, visit]));
  return wanted
    .filter(({ key, checkId }) => newest.get(key.split('#')[0] ?? key) === checkId)
    .map((row): CheckOfSet => {
      const visitKey = visitKeyOf(row);
      const visit = planned.get(visitKey);
      const off = visit !== undefined && !visit.on && visit.decidedBy !== '';
      const accepted = off
        ? acceptances.find((one) =>
            one.covers.some((check) => check.key === row.key && check.versionId === row.versionId),
          )
        : undefined;
      return {
        ...row,
        visitKey,
        switchedOff:
          visit !== undefined && off && visit.decidedBy !== ''
            ? { visitName: visit.name, decidedBy: visit.decidedBy }
            : null,
        accepted:
          accepted === undefined ? null : { byName: accepted.byName, at: accepted.at, basis: accepted.basis },
      };
    })
    .sort(
      (one, other) =>
        (place.get(one.visitKey ?? '') ?? plan.visits.length) -
          (place.get(other.visitKey ?? '') ?? plan.visits.length) || one.ordinal - other.ordinal,
    );
}
