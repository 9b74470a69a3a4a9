import { z } from 'zod';
import { holdPoints, visitKinds, visitTitles, type ExtraCheck } from '../checks/check.ts';
import { extraCheck } from '../checks/produce.ts';

/**
 * Which inspections a project has: the usual ones under the names of its jurisdiction, in its order, some switched off,
 * others added with checks of their own. A plan is a version: the next one never changes a list that was worked through.
 */
const key = z.string().regex(/^[a-z0-9-]{1,48}$/);
const line = (longest: number) => z.string().trim().min(1, 'Fill this in.').max(longest);
const steps = ['', ...Object.values(holdPoints)] as const;

export const plannedVisitSchema = z.strictObject({
  /** The kind, for the usual ones. */
  key,
  kind: z.enum(visitKinds),
  name: line(80),
  on: z.boolean(),
  /** Where it is switched off: who decides what it would have held back; '' where it is on. */
  decidedBy: z.enum(['', 'engineer', 'authority']),
});

export const localCheckSchema = z.strictObject({
  key,
  visit: key,
  title: line(120),
  criterion: line(1000),
  /** '' : a local requirement without a section. */
  clause: z.string().trim().max(200),
  howToLook: z.string().trim().max(600),
  photoRequired: z.boolean(),
  holdPoint: z.enum(steps),
});

export const planContentSchema = z.strictObject({
  visits: z.array(plannedVisitSchema).max(40),
  checks: z.array(localCheckSchema).max(200),
});

export type PlannedVisit = z.infer<typeof plannedVisitSchema>;
export type LocalCheck = z.infer<typeof localCheckSchema>;
export type PlanContent = z.infer<typeof planContentSchema>;

export interface Plan extends PlanContent {
  /** 0 for the usual inspections, before anybody changed them. */
  readonly number: number;
}

export const LOCAL_REQUIREMENT = 'local requirement';

/** The usual inspections. */
export const usualPlan: Plan = {
  number: 0,
  visits: visitKinds
    .filter((kind) => kind !== 'local')
    .map((kind) => ({ key: kind, kind, name: visitTitles[kind], on: true, decidedBy: '' })),
  checks: [],
};

/** The name of a visit by its key: the kind, or the key of an added one. */
export function visitName(plan: PlanContent, visitKey: string): string {
  const planned = plan.visits.find((visit) => visit.key === visitKey);
  return planned?.name ?? (visitTitles as Record<string, string | undefined>)[visitKey] ?? visitTitles.local;
}

/** The key of a visit or check in the plan. */
export function visitKeyOf(one: { readonly visitKind: string; readonly localVisit?: string }): string {
  return one.localVisit === undefined || one.localVisit === '' ? one.visitKind : one.localVisit;
}

/** The same of a visit that was opened. */
export function keyOfVisit(visit: { readonly kind: string; readonly localVisit: string }): string {
  return visitKeyOf({ visitKind: visit.kind, localVisit: visit.localVisit });
}

/** The checks that the project added, as the checklist takes them. */
export function localChecks(plan: PlanContent): ExtraCheck[] {
  const kindOf = new Map(plan.visits.map((visit) => [visit.key, visit.kind]));
  return plan.checks.flatMap((check) => {
    const visitKind = kindOf.get(check.visit);
    if (visitKind === undefined) return [];
    const { title, criterion, howToLook, photoRequired, holdPoint } = check;
    return [
      {
        rule: check.key,
        source: LOCAL_REQUIREMENT,
        stem: `local:${check.key}`,
        visitKind,
        localVisit: visitKind === 'local' ? check.visit : '',
        title,
        criterion,
        clause: check.clause === '' ? 'Local requirement' : check.clause,
        howToLook,
        photoRequired,
        holdPoint,
      },
    ];
  });
}

/** The keys under which the plan's own checks stand in a checklist. */
export function localCheckKeys(plan: PlanContent): ReadonlySet<string> {
  return new Set(localChecks(plan).map((check) => extraCheck(check).key));
}
