import type { PrismaClient } from '../../database/generated/client.ts';
import { salvageStanding, type SalvageSaid, type SalvageStanding } from './rules.ts';
import { namesOfPeople } from '../../people/names.ts';

export interface SalvageRow extends SalvageStanding {
  readonly salvageLineId: string;
  readonly number: number;
  readonly what: string;
  readonly howMany: string;
  readonly condition: string;
  readonly keptAt: string;
  readonly byName: string;
  readonly at: Date;
  /** Oldest first. */
  readonly said: readonly SalvageSaid[];
}

/** What comes out of an opening that can be used again, in the order in which it was listed. Two queries. */
export async function salvageOfOpening(
  reader: Pick<PrismaClient, 'salvageLine' | 'person'>,
  projectId: string,
  openingId: string,
): Promise<SalvageRow[]> {
  const rows = await reader.salvageLine.findMany({
    where: { projectId, openingId },
    orderBy: { number: 'asc' },
    include: { words: { orderBy: { number: 'asc' } } },
  });
  const ids = rows.flatMap(({ byId, words }) => [byId, ...words.map((word) => word.byId)]);
  const names = await namesOfPeople(reader, ids);
  const nameOf = (id: string) => names.get(id) ?? '';
  return rows.map(({ id, words, byId, number, what, howMany, condition, keptAt, at }) => {
    const said = words.map((one) => ({
      word: one.word,
      note: one.note,
      at: one.at,
      byName: nameOf(one.byId),
    }));
    const line = { number, what, howMany, condition, keptAt, at };
    return { salvageLineId: id, ...line, byName: nameOf(byId), said, ...salvageStanding(said) };
  });
}
