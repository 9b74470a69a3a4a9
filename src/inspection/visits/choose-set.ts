import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Refused } from '../../problems.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { setForChecklist } from '../store.ts';
import { findVisit } from './service.ts';

/**
 * A set was issued while the visit was under way: the inspector goes on with it, or brings the visit to its end against
 * the one it was on. Findings stay where they were made; those on unchanged versions carry over by themselves. The same
 * choice twice is one.
 *
 * @throws Refused where the visit is closed, or a still later set was issued than the one that was shown
 */
export async function chooseSet(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly visitId: string; readonly setNumber: number; readonly goesOn: boolean },
): Promise<{ readonly repeated: boolean }> {
  return useCase(deps, actor, 'finding.record', async (use) => {
    const { tx, at, append } = use;
    const { projectId, personId } = use.actor;
    const { visitId, setNumber, goesOn } = input;
    const visit = await findVisit(use, visitId);
    if (visit.closing !== null) throw new Refused(`Visit ${visit.number} is closed already.`);
    const newest = await setForChecklist(tx, projectId, visit.openingId);
    if (newest?.number !== setNumber || newest.number <= visit.set.number) {
      throw new Refused('Another set was issued meanwhile. Look at what it changes, then choose.');
    }
    const last = visit.setChoices.filter(({ setId }) => setId === newest.setId).at(-1);
    if (last?.goesOn === goesOn) return { repeated: true };
    if (last?.goesOn === true) throw new Refused(`The visit went on with set ${setNumber} already.`);
    const choiceId = randomUUID();
    const { setId } = newest;
    await tx.visitSetChoice.create({
      data: { id: choiceId, projectId, visitId, setId, goesOn, byId: personId, at },
    });
    await append('visit.setChosen', { choiceId, visitId, setId, goesOn });
    return { repeated: false };
  });
}
