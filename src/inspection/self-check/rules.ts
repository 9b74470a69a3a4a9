import type { SelfCheckWord } from '../../database/generated/client.ts';
import { isAbout, stemOf, type CheckOfSet } from '../status.ts';

export const selfCheckWords = [
  'ready',
  'not_ready',
  'not_applicable',
] as const satisfies readonly SelfCheckWord[];

/** One own look, with the key and version of the check as it was then. */
export interface OwnLook {
  readonly key: string;
  readonly versionId: string;
  readonly word: SelfCheckWord;
  readonly note: string;
  readonly byName: string;
  readonly at: Date;
}

export interface OwnStatus {
  readonly check: CheckOfSet;
  /** The last look at this version; null where nobody looked since it was approved. */
  readonly look: OwnLook | null;
}

/** Where the contractor's own look at each check stands; looks come oldest first. A new version wants a new look. Pure. */
export function ownStatuses(checks: readonly CheckOfSet[], looks: readonly OwnLook[]): OwnStatus[] {
  return checks.map((check) => ({
    check,
    look:
      looks.filter((look) => stemOf(look.key) === stemOf(check.key) && isAbout(look, check)).at(-1) ?? null,
  }));
}

/** What is shown to the inspector where the contractor shares it: a sentence, no more. */
export function sharedWords(statuses: readonly OwnStatus[]): string {
  const ready = statuses.filter(({ look }) => look !== null && look.word !== 'not_ready').length;
  const notReady = statuses.filter(({ look }) => look?.word === 'not_ready');
  const unseen = statuses.filter(({ look }) => look === null).length;
  const parts = [`${ready} of ${statuses.length} ready`];
  if (notReady.length > 0) {
    parts.push(
      `not ready: ${notReady
        .map(({ check, look }) => (look?.note ? `${check.title} (${look.note})` : check.title))
        .join('; ')}`,
    );
  }
  if (unseen > 0) parts.push(`${unseen} not looked at`);
  return `${parts.join(', ')}.`;
}
