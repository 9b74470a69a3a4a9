import { randomUUID } from 'node:crypto';
import { Refusal } from '../../engineering/trace/index.ts';
import { Invalid } from '../../problems.ts';
import { calculationText, type Calculation } from '../calculation.ts';
import { canonicalJson } from '../canonical.ts';
import { calculationHash, versionHash } from '../hash.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import type { VersionSaved } from '../events/payloads.ts';
import { isKeepable } from '../prose.ts';
import {
  contextOf,
  groundsText,
  recordedGrounds,
  type GroundItem,
  type RecordedGround,
} from '../staleness/rules.ts';
import type { UseCase } from '../use-case.ts';
import type { ItemRow } from './store.ts';

/** A version worked out and hashed, not yet on record. */
export interface Worked {
  readonly content: unknown;
  readonly contentText: string;
  readonly restsOn: readonly RecordedGround[];
  readonly restsOnText: string;
  readonly calculation: Calculation | null;
  readonly calculationText: string;
  readonly calculationHash: string;
  readonly engineVersion: string;
  readonly hash: string;
}

/**
 * Judges a content by its kind's schema.
 *
 * @returns the content as the schema gives it.
 * @throws Invalid with a sentence for each field path.
 */
export function judgeContent(kinds: KindRegistry, item: Pick<ItemRow, 'kind'>, content: unknown): unknown {
  const judged = kinds.get(item.kind).schema.safeParse(content);
  const fields: Record<string, string> = {};
  if (judged.success) {
    findUnkeepable(judged.data, [], fields);
    if (Object.keys(fields).length > 0) throw new Invalid(fields);
    return judged.data;
  }
  for (const issue of judged.error.issues) fields[issue.path.map(String).join('.')] ??= issue.message;
  throw new Invalid(fields);
}

/** Texts with U+0000 or half of a surrogate pair: neither canonical JSON (RFC 8785, 3.2.2.2) nor jsonb carries them. */
function findUnkeepable(value: unknown, path: readonly string[], fields: Record<string, string>): void {
  if (typeof value === 'string') {
    if (!isKeepable(value))
      fields[path.join('.')] = 'That holds a character that can’t be kept; type it again.';
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, part] of Object.entries(value)) findUnkeepable(part, [...path, key], fields);
  }
}

/**
 * Works out what a content rests on and what it comes to, by the newest versions of its grounds.
 *
 * @throws Invalid where the engine refuses: its sentence, at the path it names.
 */
export function workOut(
  kinds: KindRegistry,
  item: ItemRow,
  content: unknown,
  grounds: readonly GroundItem[],
): Worked {
  const definition = kinds.get(item.kind);
  const context = contextOf(kinds, item, grounds);
  const { engineVersion } = kinds;
  // What is calculated is what is kept: the content as it will be read back.
  const contentText = canonicalJson(content);
  const kept = JSON.parse(contentText) as unknown;
  try {
    const restsOn = recordedGrounds(definition.restsOn(kept, context));
    const restsOnText = groundsText(restsOn);
    const calculation = definition.calculate(kept, context);
    const text = calculationText(calculation);
    const hashed = {
      kind: item.kind,
      content: kept,
      restsOn: JSON.parse(restsOnText) as unknown,
      calculationHash: calculationHash(text),
      engineVersion,
    };
    return {
      ...hashed,
      contentText,
      restsOn,
      restsOnText,
      calculation,
      calculationText: text,
      hash: versionHash(hashed),
    };
  } catch (error) {
    if (error instanceof Refusal) throw new Invalid({ [error.path]: error.message });
    throw error;
  }
}

export interface MadeVersion {
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
  readonly calculation: Calculation | null;
}

/** Puts a version on record, with its event. The caller has decided that it may be. */
export async function putOnRecord(
  use: UseCase,
  item: ItemRow,
  number: number,
  worked: Worked,
  reason: string,
  origin: VersionSaved['origin'],
): Promise<MadeVersion> {
  const { tx, actor, at } = use;
  const versionId = randomUUID();
  await tx.version.create({
    data: {
      id: versionId,
      projectId: item.projectId,
      itemId: item.itemId,
      number,
      content: worked.contentText,
      restsOn: worked.restsOnText,
      calculation: worked.calculationText,
      calculationHash: worked.calculationHash,
      engineVersion: worked.engineVersion,
      hash: worked.hash,
      reason,
      authorId: actor.personId,
      authorRole: actor.role,
      createdAt: at,
    },
    select: { id: true },
  });
  await use.append('version.saved', {
    versionId,
    itemId: item.itemId,
    number,
    hash: worked.hash,
    reason,
    authorId: actor.personId,
    authorRole: actor.role,
    origin,
  });
  return { versionId, number, hash: worked.hash, calculation: worked.calculation };
}
