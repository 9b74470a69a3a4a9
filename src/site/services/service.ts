import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import type { ServiceWord } from '../../database/generated/client.ts';
import { Conflict, Invalid, NotFound } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { actProblem } from './rules.ts';
import { findService } from './store.ts';

const LONGEST_NAME = 120;

export interface LogServiceAct {
  readonly itemId: string;
  /** The version of the row that the person was looking at. */
  readonly versionId: string;
  readonly word: ServiceWord;
  /** Who did it: the electrician, the plumber. */
  readonly who: string;
  readonly note: string;
}

/**
 * Logs what was done with a service: it was proved dead, made live again, its disposition carried out, checked. Added,
 * never changed. The same once more from the same person (a double tap) adds nothing.
 *
 * @throws Invalid where nobody is named or it does not fit what was logged before
 * @throws Conflict where the row has another version than the one shown
 */
export async function logServiceAct(
  deps: RecordDeps,
  actor: Actor,
  input: LogServiceAct,
): Promise<{ repeated: boolean }> {
  const itemId = knownId(input.itemId, 'That service');
  const who = prose(input.who, 'who');
  const note = prose(input.note, 'note');
  if (who === '') throw new Invalid({ who: 'Say who did it.' });
  if (who.length > LONGEST_NAME) throw new Invalid({ who: `Use at most ${LONGEST_NAME} characters.` });
  return useCase(deps, actor, 'service.log', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId } = present;
    const row = await findService(tx, projectId, itemId);
    if (row === null) throw new NotFound('That service');
    const { word } = input;
    const last = await tx.serviceAct.findFirst({ where: { itemId }, orderBy: { number: 'desc' } });
    if (
      last?.word === word &&
      last.who === who &&
      last.note === note &&
      last.byId === personId &&
      last.versionId === input.versionId
    ) {
      return { repeated: true };
    }
    if (row.versionId !== input.versionId) {
      throw new Conflict(
        `Nothing was logged: ${row.title} has version ${row.number} meanwhile. Look at what it says now.`,
        null,
      );
    }
    const problem = actProblem(word, row.content, row.standing);
    if (problem !== '') throw new Invalid({ word: problem });
    const number = (last?.number ?? 0) + 1;
    const actId = randomUUID();
    const { versionId } = row;
    await tx.serviceAct.create({
      data: { id: actId, projectId, itemId, versionId, number, word, who, note, byId: personId, at },
    });
    await append('service.acted', { actId, itemId, versionId, number, word, who, note });
    return { repeated: false };
  });
}
