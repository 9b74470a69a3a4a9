import { serviceSchema, type Service } from '../../engineering/services/index.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { readCalculation, type Calculation } from '../../record/calculation.ts';
import { serviceStanding, type ServiceActFact, type ServiceStanding } from './rules.ts';
import { namesOfPeople } from '../../people/names.ts';

type Reader = Pick<PrismaClient, 'item' | 'person'>;

/** A service of the wall with its newest version, what was done with it, and where it stands. */
export interface ServiceRow {
  readonly itemId: string;
  readonly openingId: string;
  readonly key: string;
  readonly title: string;
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
  readonly changedAt: Date;
  readonly content: Service;
  readonly calculation: Calculation | null;
  readonly acts: readonly ServiceActFact[];
  readonly standing: ServiceStanding;
}

const shown = {
  versions: { orderBy: { number: 'desc' }, take: 1 },
  acts: { orderBy: { number: 'asc' }, include: { version: { select: { number: true, content: true } } } },
} as const;

/** The services of an opening, circuits by mark: S2 before S10. Two queries, however many. */
export async function servicesOfOpening(
  reader: Reader,
  projectId: string,
  openingId: string,
): Promise<ServiceRow[]> {
  const rows = await readServices(reader, { projectId, openingId });
  return rows.sort((one, other) => one.key.length - other.key.length || one.key.localeCompare(other.key));
}

/** One service; null where it is not in the project. */
export async function findService(
  reader: Reader,
  projectId: string,
  itemId: string,
): Promise<ServiceRow | null> {
  const [row] = await readServices(reader, { projectId, id: itemId });
  return row ?? null;
}

async function readServices(
  reader: Reader,
  where: { readonly projectId: string; readonly openingId?: string; readonly id?: string },
): Promise<ServiceRow[]> {
  const items = await reader.item.findMany({ where: { ...where, kind: 'service' }, include: shown });
  const ids = new Set(items.flatMap((item) => item.acts.map((act) => act.byId)));
  const names = await namesOfPeople(reader, ids);
  return items.flatMap((item) => {
    const [newest] = item.versions;
    if (newest === undefined || item.openingId === null) return [];
    const content = serviceSchema.parse(JSON.parse(newest.content));
    const acts = item.acts.map(({ word, who, note, byId, at, version }): ServiceActFact => ({
      word,
      who,
      note,
      byName: names.get(byId) ?? '',
      at,
      versionNumber: version.number,
      content: serviceSchema.parse(JSON.parse(version.content)),
    }));
    return [
      {
        itemId: item.id,
        openingId: item.openingId,
        key: item.key,
        title: item.title,
        versionId: newest.id,
        number: newest.number,
        hash: newest.hash,
        changedAt: newest.createdAt,
        content,
        calculation: readCalculation(newest.calculation),
        acts,
        standing: serviceStanding(item.title, content, acts),
      },
    ];
  });
}
