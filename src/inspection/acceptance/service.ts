import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { canonicalJson } from '../../record/canonical.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { checkStatuses, isSettled } from '../status.ts';
import { checksOfSet, findingsOfOpening, setForChecklist } from '../store.ts';

/**
 * The engineer lets a step go on although the inspection that would guard it is switched off. It covers the checks of
 * switched-off inspections only, in the versions they have now: what an inspection of this project guards stays held,
 * and a changed version is held again.
 *
 * @throws Invalid without a basis
 * @throws Refused where nothing switched off holds the step, or the set is no longer the newest
 */
export async function acceptHoldPoint(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly openingId: string;
    readonly setNumber: number;
    readonly step: string;
    readonly basis: string;
  },
): Promise<{ accepted: number }> {
  const basis = prose(input.basis, 'basis');
  if (basis === '') throw new Invalid({ basis: 'Say on what you accept it: what was seen, by whom, when.' });
  return useCase(deps, actor, 'hold.accept', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId } = present;
    const { openingId, step } = input;
    if ((await tx.opening.findFirst({ where: { id: openingId, projectId } })) === null) {
      throw new NotFound('That opening');
    }
    const set = await setForChecklist(tx, projectId, openingId);
    if (set?.number !== input.setNumber) {
      throw new Refused('A later set was issued meanwhile. Look at its list, then decide.');
    }
    const statuses = checkStatuses(
      set.number,
      await checksOfSet(tx, set.setId),
      await findingsOfOpening(tx, projectId, openingId),
    );
    const open = statuses.filter((one) => one.holdPoint === step && one.switchedOff && !isSettled(one));
    if (open.length === 0) throw new Refused('No switched-off inspection holds that step.');
    const covers = canonicalJson(open.map(({ key, versionId }) => ({ key, versionId })));
    const acceptanceId = randomUUID();
    await tx.holdAcceptance.create({
      data: {
        id: acceptanceId,
        projectId,
        openingId,
        setId: set.setId,
        step,
        basis,
        covers,
        byId: personId,
        at,
      },
    });
    await append('hold.accepted', { acceptanceId, openingId, setId: set.setId, step, basis, covers });
    return { accepted: open.length };
  });
}
