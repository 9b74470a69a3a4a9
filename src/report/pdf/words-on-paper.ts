import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { asWrittenOnPaper } from './written-order.ts';

/** Longer than any word of the trade, and than half a hash: what a person typed without a space. */
const LONGEST = 40;
/** Such a word may be broken after so many letters. */
const PIECE = 8;
const MAY_BREAK_HERE = '\u200b';

/**
 * A document whose columns keep their widths whatever was typed: a column is never narrower than its longest word, so that
 * one without a space would push all that stands beside it off the paper. Addresses stay in one piece: they are copied.
 * And what is written from right to left stands so.
 */
export function readyForPaper(definition: TDocumentDefinitions): TDocumentDefinitions {
  const { content, header, footer } = definition;
  return {
    ...definition,
    content: walk(content) as Content,
    ...(header === undefined ? {} : { header: onEachPage(header) }),
    ...(footer === undefined ? {} : { footer: onEachPage(footer) }),
  };
}

type OnPage = NonNullable<TDocumentDefinitions['footer']>;

function onEachPage(part: OnPage): OnPage {
  if (typeof part !== 'function') return walk(part) as Content;
  return (...page) => walk(part(...page)) as Content;
}

const HOLDS_CONTENT = ['text', 'stack', 'columns', 'ul', 'ol'] as const;

function walk(node: unknown): unknown {
  if (typeof node === 'string') return broken(asWrittenOnPaper(node));
  if (Array.isArray(node)) return node.map(walk);
  if (typeof node !== 'object' || node === null) return node;
  const changed: Record<string, unknown> = { ...node };
  for (const name of HOLDS_CONTENT) if (name in changed) changed[name] = walk(changed[name]);
  const { table } = changed as { table?: { body: unknown } };
  if (table !== undefined) changed.table = { ...table, body: walk(table.body) };
  return changed;
}

function broken(text: string): string {
  if (text.length <= LONGEST) return text;
  return text.replace(/\S+/gu, (word) => {
    const letters = Array.from(word);
    if (letters.length <= LONGEST || word.includes('://')) return word;
    return letters
      .map((letter, at) => (at > 0 && at % PIECE === 0 ? `${MAY_BREAK_HERE}${letter}` : letter))
      .join('');
  });
}
