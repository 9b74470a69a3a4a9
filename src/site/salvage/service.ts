import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import type { SalvageWordKind } from '../../database/generated/client.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { decisions, salvageStanding, wordProblem } from './rules.ts';

export interface SalvageListing {
  readonly openingId: string;
  readonly what: string;
  readonly howMany: string;
  readonly condition: string;
  readonly keptAt: string;
}

const longest: Readonly<Record<keyof Omit<SalvageListing, 'openingId'>, number>> = {
  what: 120,
  howMany: 60,
  condition: 300,
  keptAt: 120,
};

/**
 * Lists something that comes out and can be used again; the owner decides what becomes of it. The same once more within
 * a minute (a double tap) adds nothing.
 *
 * @throws Invalid where it is not said what and how many, or too long
 */
export async function listSalvage(deps: RecordDeps, actor: Actor, input: SalvageListing): Promise<void> {
  const openingId = knownId(input.openingId, 'That opening');
  const said = {
    what: prose(input.what, 'what'),
    howMany: prose(input.howMany, 'howMany'),
    condition: prose(input.condition, 'condition'),
    keptAt: prose(input.keptAt, 'keptAt'),
  };
  const errors: Record<string, string> = {};
  if (said.what === '') errors.what = 'Say what it is.';
  if (said.howMany === '') errors.howMany = 'Say how many, or how much.';
  for (const [name, most] of Object.entries(longest)) {
    if (said[name as keyof typeof said].length > most) errors[name] = `Use at most ${most} characters.`;
  }
  if (Object.keys(errors).length > 0) throw new Invalid(errors);
  await useCase(deps, actor, 'salvage.list', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId } = present;
    if ((await tx.opening.count({ where: { id: openingId, projectId } })) === 0) {
      throw new NotFound('That opening');
    }
    const last = await tx.salvageLine.findFirst({ where: { openingId }, orderBy: { number: 'desc' } });
    const same =
      last !== null &&
      (['what', 'howMany', 'condition', 'keptAt'] as const).every((name) => last[name] === said[name]);
    if (same && at.getTime() - last.at.getTime() < 60_000) return;
    const salvageLineId = randomUUID();
    const row = { openingId, number: (last?.number ?? 0) + 1, ...said };
    await tx.salvageLine.create({ data: { id: salvageLineId, projectId, ...row, byId, at } });
    await append('salvage.listed', { salvageLineId, ...row });
  });
}

/**
 * What becomes of a thing (the owner's word), or what became of it (the contractor's). Added, never changed; the last
 * decision speaks.
 *
 * @throws Refused where the word does not fit what was said before
 */
export async function sayOfSalvage(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly salvageLineId: string; readonly word: SalvageWordKind; readonly note: string },
): Promise<{ readonly openingId: string }> {
  const salvageLineId = knownId(input.salvageLineId, 'That line');
  const { word } = input;
  const note = prose(input.note, `note.${salvageLineId}`);
  if (note.length > 1000) throw new Invalid({ [`note.${salvageLineId}`]: 'Use at most 1000 characters.' });
  const action = decisions.some((one) => one === word) ? 'salvage.decide' : 'salvage.list';
  return useCase(deps, actor, action, async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId } = present;
    const line = await tx.salvageLine.findFirst({
      where: { id: salvageLineId, projectId },
      include: { words: { orderBy: { number: 'asc' } } },
    });
    if (line === null) throw new NotFound('That line');
    const { openingId, what } = line;
    const last = line.words.at(-1);
    if (last?.word === word && last.note === note && last.byId === byId) return { openingId };
    const problem = wordProblem(word, salvageStanding(line.words.map((one) => ({ ...one, byName: '' }))));
    if (problem !== '') throw new Refused(problem);
    const salvageWordId = randomUUID();
    const row = { salvageLineId, number: (last?.number ?? 0) + 1, word, note };
    await tx.salvageWord.create({ data: { id: salvageWordId, projectId, ...row, byId, at } });
    await append('salvage.worded', { salvageWordId, ...row, openingId, what });
    return { openingId };
  });
}
