import type { PrismaClient } from '../database/generated/client.ts';

/** The names of these people, by their ids, in one query; nothing is asked where there is nobody to name. */
export async function namesOfPeople(
  reader: Pick<PrismaClient, 'person'>,
  personIds: Iterable<string>,
): Promise<ReadonlyMap<string, string>> {
  const ids = [...new Set(personIds)];
  if (ids.length === 0) return new Map();
  const people = await reader.person.findMany({
    where: { id: { in: ids } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
