import { randomUUID } from 'node:crypto';
import type { Goods } from '../../engineering/materials-list/index.ts';
import { checkLine, placeOrder, receiveDelivery } from '../../site/deliveries/service.ts';
import { materialState } from '../../site/deliveries/store.ts';
import { logServiceAct } from '../../site/services/service.ts';
import type { ServiceWord } from '../../database/generated/client.ts';
import type { Scene } from '../pictures/photo.ts';
import type { Telling } from '../telling.ts';
import type { FileActs } from './files.ts';

/** Deliveries and what is done with the services in the wall. */
export function siteActs({ deps, projectId, as }: Telling, openingId: string, files: FileActs) {
  return {
    async order(yard: string, note: string) {
      await placeOrder(deps, as('contractor'), { openingId, yard, note });
    },

    /**
     * A truck: everything as called for, but what `instead` says came in its place, and nothing for lines it drops.
     * `scene` is the stamp of the composite lumber; sawn lumber bears its own.
     */
    async deliver(
      yard: string,
      {
        only = () => true,
        instead = (goods) => goods,
        scene,
        note = '',
      }: {
        readonly only?: (goods: Goods) => boolean;
        readonly instead?: (goods: Goods) => Goods;
        readonly scene: Scene;
        readonly note?: string;
      },
    ) {
      const contractor = as('contractor');
      const { deliveryId } = await receiveDelivery(deps, contractor, { openingId, yard, note });
      const { materials } = await deps.prisma.$transaction((tx) => materialState(tx, projectId, openingId));
      for (const { id, goods, order } of materials.list.lines) {
        if (!only(goods)) continue;
        const delivered = instead(goods);
        const stamp = goods.kind === 'composite' ? scene : goods.kind === 'sawn' ? 'stamp DF-L' : null;
        await checkLine(deps, contractor, {
          deliveryId,
          clientKey: randomUUID(),
          lineId: id,
          delivered,
          count: order.count,
          offGround: true,
          covered: true,
          note: delivered === goods ? '' : 'Not what the list says; set aside.',
          files: stamp === null ? [] : [await files.committedPhoto(stamp)],
        });
      }
    },

    /** Logs one word on every service of the opening that takes it, but for some by key. */
    async services(word: ServiceWord, who: string, { except = [] as readonly string[], note = '' } = {}) {
      const items = await deps.prisma.item.findMany({
        where: { projectId, openingId, kind: 'service', key: { notIn: [...except] } },
        orderBy: { key: 'asc' },
        select: { id: true, versions: { orderBy: { number: 'desc' }, take: 1, select: { id: true } } },
      });
      for (const { id, versions } of items) {
        const versionId = versions[0]?.id ?? '';
        await logServiceAct(deps, as('contractor'), { itemId: id, versionId, word, who, note });
      }
    },
  };
}
