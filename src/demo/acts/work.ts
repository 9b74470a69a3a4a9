import { dayOf } from '../../house-time.ts';
import { listSalvage, sayOfSalvage } from '../../site/salvage/service.ts';
import { sequencePlanOf } from '../../site/sequence/store.ts';
import { logWork, planSequence } from '../../site/sequence/service.ts';
import type { UsualStepKey } from '../../site/sequence/steps.ts';
import type { SalvageWordKind } from '../../database/generated/client.ts';
import { demoTimeZone } from '../cinder-ferry.ts';
import { daysAfter } from '../story-time.ts';
import type { Telling } from '../telling.ts';

interface Planned {
  /** Days from the day of the story on which it is planned. */
  readonly inDays: number;
  readonly who?: string;
  readonly notice?: string;
}

/** The order of work: days given, steps logged in their order, things listed for use again. */
export function workActs({ deps, as, now }: Telling, openingId: string) {
  return {
    async plan(steps: Partial<Record<UsualStepKey, Planned>>, reason = '') {
      const planned = Object.entries(steps).map(([key, { inDays, who = '', notice = '' }]) => {
        const plannedOn = daysAfter(dayOf(now(), demoTimeZone), inDays);
        return [key, { plannedOn, who, notice, off: false }] as const;
      });
      const { number } = await sequencePlanOf(deps.prisma, openingId);
      await planSequence(deps, as('contractor'), {
        openingId,
        expectedNumber: number,
        change: { is: 'plan', steps: Object.fromEntries(planned), reason },
      });
    },

    /** A step done today. The demo's people keep the order: what is out of it ends the telling. */
    async did(step: UsualStepKey, note = '', who = 'R. T. and crew') {
      const doneOn = dayOf(now(), demoTimeZone);
      await logWork(deps, as('contractor'), { openingId, step, doneOn, who, note, allTheSame: false });
    },

    async salvage(what: string, howMany: string, condition: string, keptAt: string) {
      await listSalvage(deps, as('contractor'), { openingId, what, howMany, condition, keptAt });
    },

    /** What the owner says of a thing that is listed, by its name. */
    async decide(what: string, word: SalvageWordKind, note = '') {
      const line = await deps.prisma.salvageLine.findFirstOrThrow({ where: { openingId, what } });
      await sayOfSalvage(deps, as('owner'), { salvageLineId: line.id, word, note });
    },
  };
}
