import type { PrismaClient } from '../../database/generated/client.ts';
import { keyOfVisit, visitName } from '../../inspection/plan/plan.ts';
import { planOf } from '../../inspection/plan/store.ts';

/** What the payload of an event may name, by id; `visitKey` by the plan of inspections. */
export interface NamedInPayload {
  readonly openingId?: unknown;
  readonly itemId?: unknown;
  readonly checkId?: unknown;
  readonly attachmentId?: unknown;
  readonly visitId?: unknown;
  readonly visitKey?: unknown;
  readonly findingId?: unknown;
  readonly deliveryId?: unknown;
  /** What was marked. */
  readonly markId?: unknown;
}

/** What a line of the log is about, in the words of the record; '' where it is about nothing of the kind. */
export interface LineNames {
  /** The item, check, file or inspection. */
  readonly about: string;
  /** The opening; '' in a project of one, where it goes without saying. */
  readonly opening: string;
}

interface Named {
  readonly title: string;
  readonly openingId: string | null;
}

type IdKey = Exclude<keyof NamedInPayload, 'openingId' | 'visitKey'>;

/** Names what the payloads of a page of the log name, at a handful of queries however long the page is. */
export async function namesOf(
  prisma: PrismaClient,
  projectId: string,
  payloads: readonly NamedInPayload[],
): Promise<(payload: NamedInPayload) => LineNames> {
  const idsOf = (key: IdKey) => [
    ...new Set(payloads.flatMap(({ [key]: id }) => (typeof id === 'string' ? [id] : []))),
  ];
  const within = (key: IdKey) => ({ projectId, id: { in: idsOf(key) } });
  const [openings, items, checks, files, visits, findings, deliveries, marks, plan] = await Promise.all([
    prisma.opening.findMany({ where: { projectId }, select: { id: true, name: true } }),
    prisma.item.findMany({ where: within('itemId'), select: { id: true, title: true, openingId: true } }),
    prisma.check.findMany({
      where: within('checkId'),
      select: { id: true, title: true, set: { select: { openingId: true } } },
    }),
    prisma.attachment.findMany({
      where: within('attachmentId'),
      select: { id: true, caption: true, originalName: true },
    }),
    prisma.visit.findMany({ where: within('visitId'), select: visitFields }),
    prisma.finding.findMany({
      where: within('findingId'),
      select: { id: true, visit: { select: visitFields } },
    }),
    prisma.delivery.findMany({ where: within('deliveryId'), select: { id: true, openingId: true } }),
    prisma.mark.findMany({
      where: within('markId'),
      select: { id: true, version: { select: { number: true } } },
    }),
    planOf(prisma, projectId),
  ]);
  const visitTitle = (visit: (typeof visits)[number]) =>
    `Visit ${visit.number}, ${visitName(plan, keyOfVisit(visit))}`;
  const named = new Map<string, Named>([
    ...items.map(({ id, ...item }): [string, Named] => [id, item]),
    ...checks.map(({ id, title, set }): [string, Named] => [id, { title, openingId: set.openingId }]),
    ...files.map(({ id, caption, originalName }): [string, Named] => [
      id,
      { title: caption || originalName, openingId: null },
    ]),
    ...visits.map((visit): [string, Named] => [
      visit.id,
      { title: visitTitle(visit), openingId: visit.openingId },
    ]),
    ...findings.map(({ id, visit }): [string, Named] => [
      id,
      { title: visitTitle(visit), openingId: visit.openingId },
    ]),
    ...deliveries.map(({ id, openingId }): [string, Named] => [id, { title: '', openingId }]),
  ]);
  const versionMarked = new Map(marks.map(({ id, version }) => [id, `, version ${version.number}`]));
  const nameOfOpening = new Map(openings.map(({ id, name }) => [id, name]));

  return (payload) => {
    const { itemId, checkId, attachmentId, visitId, findingId, deliveryId, visitKey } = payload;
    // The nearest first: a finding is about its check, and lies in a visit.
    const found = [itemId, checkId, attachmentId, visitId, findingId, deliveryId].flatMap((id) => {
      const one = typeof id === 'string' ? named.get(id) : undefined;
      return one === undefined ? [] : [one];
    });
    const own = typeof payload.openingId === 'string' ? payload.openingId : null;
    const openingId = own ?? found.find((one) => one.openingId !== null)?.openingId ?? '';
    const marked = typeof payload.markId === 'string' ? (versionMarked.get(payload.markId) ?? '') : '';
    const title = found[0]?.title ?? (typeof visitKey === 'string' ? visitName(plan, visitKey) : '');
    return {
      about: `${title}${marked}`,
      opening: openings.length > 1 ? (nameOfOpening.get(openingId) ?? '') : '',
    };
  };
}

const visitFields = { id: true, number: true, kind: true, localVisit: true, openingId: true } as const;
