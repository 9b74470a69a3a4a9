import { materialState } from '../../../src/site/deliveries/store.ts';
import {
  checkLine,
  placeOrder,
  receiveDelivery,
  withdrawLine,
} from '../../../src/site/deliveries/service.ts';
import type { Site } from '../../inspection/support/site.ts';

/** An order, a delivery with its first line as called for, and that line sent back. */
export async function orderAndReceive(site: Site): Promise<void> {
  const { deps } = site.test;
  const { openingId, projectId } = site;
  const builder = site.actor(site.contractor, 'contractor');
  await placeOrder(deps, builder, { openingId, yard: 'The yard', note: '' });
  const { deliveryId } = await receiveDelivery(deps, builder, { openingId, yard: 'The yard', note: '' });
  const { materials } = await deps.prisma.$transaction((tx) => materialState(tx, projectId, openingId));
  const line = materials.list.lines[0]!;
  const { deliveryLineId } = await checkLine(deps, builder, {
    deliveryId,
    clientKey: 'first',
    lineId: line.id,
    delivered: line.goods,
    count: 1,
    offGround: true,
    covered: true,
    note: '',
    files: [],
  });
  await withdrawLine(deps, builder, { deliveryLineId, reason: 'sent_back', note: '' });
}
