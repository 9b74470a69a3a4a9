import { z } from 'zod';
import { asMember } from '../../record/use-case.ts';
import { materialState, type DeliveredLine } from '../../site/deliveries/store.ts';
import type { Deps } from '../../web/deps.ts';
import { operation, type Operation } from '../operation.ts';
import { byNumber, cut, openingParams, pageOf } from '../schemas/common.ts';
import { deliverySchema } from '../schemas/site.ts';

function deliveredLine(line: DeliveredLine) {
  const { withdrawal } = line;
  return {
    ...line,
    goods: { ...line.goods },
    calledFor: { ...line.calledFor },
    foundThen: [...line.foundThen],
    at: line.at.toISOString(),
    withdrawal: withdrawal && {
      reason: withdrawal.reason,
      note: withdrawal.note,
      at: withdrawal.at.toISOString(),
    },
  };
}

/** What arrived, as it was held against the list of the set. */
export function deliveryOperations(deps: Deps): Operation[] {
  return [
    operation(
      {
        id: 'listDeliveries',
        method: 'GET',
        path: '/projects/{projectId}/openings/{openingId}/deliveries',
        tag: 'Deliveries',
        summary: 'The deliveries of an opening, newest first',
        access: 'delivery.read',
        scope: 'read',
        status: 200,
      },
      { params: openingParams, query: byNumber, body: null, answer: pageOf(deliverySchema, z.int()) },
      async ({ actor, params: { openingId }, query }) => {
        const { deliveries, delivered } = await asMember(
          deps,
          actor(),
          'delivery.read',
          (tx, { projectId }) => materialState(tx, projectId, openingId),
        );
        const page = cut(deliveries, (delivery) => delivery.number, query, 'down');
        const items = page.items.map((delivery) => ({
          ...delivery,
          at: delivery.at.toISOString(),
          lines: delivered.filter((line) => line.deliveryId === delivery.deliveryId).map(deliveredLine),
        }));
        return { body: { items, next: page.next } };
      },
    ),
  ];
}
