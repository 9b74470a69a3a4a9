import type { PrismaClient } from '../../database/generated/client.ts';
import type { Goods, MaterialStep } from '../../engineering/materials-list/index.ts';
import type { Transaction } from '../../record/events/append.ts';
import { approvedMaterials, type ApprovedMaterials } from '../materials/approved.ts';
import {
  holdAgainst,
  lineStandings,
  materialOnSite,
  type DeliveredGoods,
  type HeldGoods,
  type LineStanding,
  type OnSite,
  type OrderedGoods,
} from './rules.ts';
import { namesOfPeople } from '../../people/names.ts';

/** A delivered line as kept. */
export interface DeliveredLine extends DeliveredGoods {
  readonly deliveryId: string;
  readonly deliveryNumber: number;
  readonly setNumber: number;
  readonly calledFor: Goods;
  readonly offGround: boolean;
  readonly covered: boolean;
  /** As it was found then. */
  readonly foundThen: readonly string[];
  readonly note: string;
  readonly byName: string;
  readonly at: Date;
  readonly withdrawal: {
    readonly reason: 'sent_back' | 'entered_wrongly';
    readonly note: string;
    readonly at: Date;
  } | null;
}

export interface DeliveryRow {
  readonly deliveryId: string;
  readonly number: number;
  readonly yard: string;
  readonly note: string;
  readonly byName: string;
  readonly at: Date;
}

export interface OrderRow extends DeliveryRow {
  readonly setNumber: number;
  readonly lines: readonly OrderedGoods[];
}

/** Everything about the material of an opening: what the set calls for, what was ordered, what came. */
export interface MaterialState {
  readonly materials: ApprovedMaterials;
  readonly orders: readonly OrderRow[];
  readonly deliveries: readonly DeliveryRow[];
  readonly delivered: readonly DeliveredLine[];
  readonly held: readonly HeldGoods<DeliveredLine>[];
  readonly standings: readonly LineStanding<DeliveredLine>[];
}

/** @throws NotFound for an opening of another project */
export async function materialState(
  tx: Transaction,
  projectId: string,
  openingId: string,
): Promise<MaterialState> {
  const materials = await approvedMaterials(tx, projectId, openingId);
  const orders = await tx.materialOrder.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'desc' },
    include: { set: { select: { number: true } } },
  });
  const deliveries = await tx.delivery.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'desc' },
  });
  const lines = await linesThatCame(tx, projectId, openingId);
  const ids = new Set([...orders, ...deliveries, ...lines].map((row) => row.byId));
  const names = await namesOfPeople(tx, ids);
  const nameOf = (id: string) => names.get(id) ?? '';
  const row = ({ id, number, yard, note, byId, at }: (typeof deliveries)[number]): DeliveryRow => ({
    deliveryId: id,
    number,
    yard,
    note,
    byName: nameOf(byId),
    at,
  });
  const delivered = lines.map(({ byId, ...line }): DeliveredLine => ({ ...line, byName: nameOf(byId) }));
  const held = holdAgainst(materials.list.lines, delivered);
  const orderRows = orders.map(({ set, lines: text, ...order }) => ({
    ...row(order),
    setNumber: set.number,
    lines: JSON.parse(text) as OrderedGoods[],
  }));
  const ordered = orderRows.flatMap((order) => order.lines);
  return {
    materials,
    orders: orderRows,
    deliveries: deliveries.map(row),
    delivered,
    held,
    standings: lineStandings(materials.list.lines, held, ordered),
  };
}

/** A delivered line before it is known who entered it. */
type CameLine = Omit<DeliveredLine, 'byName'> & { readonly byId: string };

async function linesThatCame(
  tx: Pick<Transaction, 'deliveryLine'>,
  projectId: string,
  openingId: string,
): Promise<CameLine[]> {
  const rows = await tx.deliveryLine.findMany({
    where: { projectId, delivery: { openingId } },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    include: {
      withdrawal: true,
      set: { select: { number: true } },
      delivery: { select: { number: true } },
    },
  });
  return rows.map((line) => ({
    deliveryLineId: line.id,
    deliveryId: line.deliveryId,
    deliveryNumber: line.delivery.number,
    setNumber: line.set.number,
    lineId: line.lineId,
    goods: JSON.parse(line.delivered) as Goods,
    calledFor: JSON.parse(line.calledFor) as Goods,
    count: line.count,
    offGround: line.offGround,
    covered: line.covered,
    foundThen: JSON.parse(line.differences) as string[],
    note: line.note,
    byId: line.byId,
    at: line.at,
    withdrawn: line.withdrawal !== null,
    withdrawal: line.withdrawal,
  }));
}

/** What came and does not match the set in force, each with how its line stands. What was ordered is not looked at. */
export async function mismatchesOf(
  prisma: PrismaClient,
  projectId: string,
  openingId: string,
): Promise<{
  readonly materials: ApprovedMaterials;
  readonly wrong: readonly {
    readonly held: HeldGoods<CameLine>;
    readonly standing: LineStanding<CameLine> | undefined;
  }[];
}> {
  const [materials, lines] = await Promise.all([
    approvedMaterials(prisma, projectId, openingId),
    linesThatCame(prisma, projectId, openingId),
  ]);
  const held = holdAgainst(materials.list.lines, lines);
  const standings = lineStandings(materials.list.lines, held, []);
  const wrong = held
    .filter(({ differences }) => differences.length > 0)
    .map((one) => ({ held: one, standing: standings.find(({ line }) => line.id === one.line?.id) }));
  return { materials, wrong };
}

/**
 * Is the material for some steps of an opening on site? For the order of work. Before a set is issued: no, since nothing says
 * what it would be. @throws NotFound for an opening of another project
 */
export async function readMaterialOnSite(
  tx: Transaction,
  projectId: string,
  openingId: string,
  steps: readonly MaterialStep[],
): Promise<OnSite> {
  const { materials, standings } = await materialState(tx, projectId, openingId);
  if (materials.set === null) return { onSite: false, reasons: materials.gaps };
  const reasons = steps.flatMap((step) => [
    ...materials.list.unlisted.flatMap((one) => (one.step === step ? [one.text] : [])),
    ...materialOnSite(standings, step, materials.ordinal).reasons,
  ]);
  return { onSite: reasons.length === 0, reasons: [...new Set(reasons)] };
}
