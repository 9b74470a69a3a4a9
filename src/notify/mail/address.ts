import { oneLine } from '../rules/facts.ts';

/** One address, plain: what could end a header, add a second recipient or reach into the protocol is not one. */
const PLAIN_ADDRESS = /^[^\s@<>()[\]\\,;:"]+@[^\s@<>()[\]\\,;:"]+$/;

export function isPlainAddress(text: string): boolean {
  // The longest path of RFC 5321, section 4.5.3.1.3, less its angle brackets.
  return text.length <= 254 && PLAIN_ADDRESS.test(text) && !/\p{Cc}/u.test(text);
}

/** 'Name <address>' or an address alone; null where it is neither. */
export function readMailbox(text: string): { name: string; address: string } | null {
  const named = /^([^<>"]*)<([^<>]+)>$/.exec(text.trim());
  const address = (named?.[2] ?? text).trim();
  if (!isPlainAddress(address) || /\p{Cc}/u.test(text)) return null;
  return { name: oneLine(named?.[1] ?? ''), address };
}

/** The longest subject that is shown whole on a phone. */
const SUBJECT_LENGTH = 120;

export function subjectLine(words: string): string {
  const plain = oneLine(words);
  return plain.length > SUBJECT_LENGTH ? `${plain.slice(0, SUBJECT_LENGTH - 1).trimEnd()}…` : plain;
}
