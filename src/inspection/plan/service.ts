import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Conflict } from '../../problems.ts';
import { canonicalJson } from '../../record/canonical.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { addExtraChecks } from '../checks/extra.ts';
import { changePlan, type PlanChange } from './change.ts';
import { localChecks } from './plan.ts';
import { planOf } from './store.ts';

/**
 * The next plan of inspections. Lists that were worked through stay as they were; to the lists of the sets in force the
 * checks that are new are added.
 *
 * @throws Conflict where somebody else changed the plan since `expectedNumber`
 */
export async function planInspections(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly expectedNumber: number; readonly change: PlanChange },
): Promise<{ number: number; words: string }> {
  return useCase(deps, actor, 'inspections.plan', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId } = present;
    const plan = await planOf(tx, projectId);
    if (plan.number !== input.expectedNumber) {
      throw new Conflict(
        'Somebody else changed the inspections meanwhile. Look at them as they are now, then change them.',
        null,
      );
    }
    const { number: _number, ...before } = plan;
    const { content: after, words } = changePlan(before, input.change);
    const content = canonicalJson({ visits: after.visits, checks: after.checks });
    // Nothing changed (a visit moved past the end, the same name again): no version of nothing.
    if (content === canonicalJson(before)) return { number: plan.number, words };
    const number = plan.number + 1;
    const planId = randomUUID();
    await tx.inspectionPlan.create({
      data: { id: planId, projectId, number, content, words, byId: personId, at },
    });
    const event = await append('inspections.planned', { planId, number, content, words });
    const sets = await tx.approvedSet.findMany({
      where: { projectId },
      distinct: ['openingId'],
      orderBy: [{ openingId: 'asc' }, { number: 'desc' }],
      select: { id: true, number: true },
    });
    for (const set of sets) {
      await addExtraChecks(tx, event, { setId: set.id, number: set.number }, localChecks(after));
    }
    return { number, words };
  });
}
