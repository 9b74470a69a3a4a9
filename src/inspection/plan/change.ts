import { Invalid, NotFound } from '../../problems.ts';
import { localCheckSchema, type LocalCheck, type PlanContent, type PlannedVisit } from './plan.ts';

/** One step from a plan to the next. */
export type PlanChange =
  | { readonly is: 'rename'; readonly visit: string; readonly name: string }
  | { readonly is: 'switch off'; readonly visit: string; readonly decidedBy: string }
  | { readonly is: 'switch on'; readonly visit: string }
  | { readonly is: 'move'; readonly visit: string; readonly by: -1 | 1 }
  | { readonly is: 'add visit'; readonly key: string; readonly name: string }
  | { readonly is: 'put check'; readonly check: unknown }
  | { readonly is: 'drop check'; readonly key: string };

const MOST_VISITS = 40;
const MOST_CHECKS = 200;

/**
 * The next plan and what was done, as a sentence for the log. Pure.
 *
 * @throws Invalid at the field that does not do
 * @throws NotFound where the visit or check is not in the plan
 */
export function changePlan(plan: PlanContent, change: PlanChange): { content: PlanContent; words: string } {
  switch (change.is) {
    case 'rename': {
      const visit = visitOf(plan, change.visit);
      const name = nameOf(change.name, plan, `name.${visit.key}`, visit.key);
      return { content: withVisit(plan, { ...visit, name }), words: `“${visit.name}” is now “${name}”` };
    }
    case 'switch off': {
      const visit = visitOf(plan, change.visit);
      const { decidedBy } = change;
      if (decidedBy !== 'engineer' && decidedBy !== 'authority') {
        throw new Invalid({
          [`decidedBy.${visit.key}`]: 'Say who decides what this inspection would have held back.',
        });
      }
      const who = decidedBy === 'engineer' ? 'the engineer' : 'the authority having jurisdiction';
      return {
        content: withVisit(plan, { ...visit, on: false, decidedBy }),
        words: `“${visit.name}” is switched off; ${who} decides what it held back`,
      };
    }
    case 'switch on': {
      const visit = visitOf(plan, change.visit);
      return {
        content: withVisit(plan, { ...visit, on: true, decidedBy: '' }),
        words: `“${visit.name}” is switched on`,
      };
    }
    case 'move': {
      const visit = visitOf(plan, change.visit);
      const from = plan.visits.indexOf(visit);
      const to = from + change.by;
      const other = plan.visits[to];
      if (other === undefined) return { content: plan, words: `“${visit.name}” stays where it is` };
      const visits = plan.visits.with(from, other).with(to, visit);
      return {
        content: { ...plan, visits },
        words: `“${visit.name}” comes ${change.by < 0 ? 'before' : 'after'} “${other.name}”`,
      };
    }
    case 'add visit': {
      if (plan.visits.length >= MOST_VISITS)
        throw new Invalid({
          newVisit: `A project has at most ${MOST_VISITS} inspections. Rename one that nobody needs.`,
        });
      const name = nameOf(change.name, plan, 'newVisit', '');
      const visit: PlannedVisit = { key: change.key, kind: 'local', name, on: true, decidedBy: '' };
      // The final one stays last unless somebody moves it.
      const last = plan.visits.findIndex((one) => one.kind === 'final');
      const visits = plan.visits.toSpliced(last === -1 ? plan.visits.length : last, 0, visit);
      return { content: { ...plan, visits }, words: `“${name}” is added` };
    }
    case 'put check':
      return putCheck(plan, change.check);
    case 'drop check': {
      const check = plan.checks.find((one) => one.key === change.key);
      if (check === undefined) throw new NotFound('That check');
      return {
        content: { ...plan, checks: plan.checks.filter((one) => one.key !== change.key) },
        words: `“${check.title}” is no longer asked for`,
      };
    }
  }
}

function putCheck(plan: PlanContent, given: unknown): { content: PlanContent; words: string } {
  const parsed = localCheckSchema.safeParse(given);
  if (!parsed.success) {
    const fields: Record<string, string> = {};
    for (const issue of parsed.error.issues) fields[issue.path.join('.')] ??= issue.message;
    throw new Invalid(fields);
  }
  const check: LocalCheck = parsed.data;
  visitOf(plan, check.visit);
  const there = plan.checks.some((one) => one.key === check.key);
  if (!there && plan.checks.length >= MOST_CHECKS)
    throw new Invalid({
      title: `A project has at most ${MOST_CHECKS} checks of its own. Change one that nobody needs.`,
    });
  const checks = there
    ? plan.checks.map((one) => (one.key === check.key ? check : one))
    : [...plan.checks, check];
  return {
    content: { ...plan, checks },
    words: there ? `“${check.title}” is worded anew` : `“${check.title}” is asked for`,
  };
}

function visitOf(plan: PlanContent, key: string): PlannedVisit {
  const visit = plan.visits.find((one) => one.key === key);
  if (visit === undefined) throw new NotFound('That inspection');
  return visit;
}

function withVisit(plan: PlanContent, visit: PlannedVisit): PlanContent {
  return { ...plan, visits: plan.visits.map((one) => (one.key === visit.key ? visit : one)) };
}

function nameOf(typed: string, plan: PlanContent, field: string, own: string): string {
  const name = typed.trim();
  if (name === '') throw new Invalid({ [field]: 'Name the inspection.' });
  if (name.length > 80) throw new Invalid({ [field]: 'Use at most 80 characters.' });
  const same = plan.visits.some((visit) => visit.key !== own && visit.name === name);
  if (same) throw new Invalid({ [field]: 'There is an inspection of that name already.' });
  return name;
}
