/** Paper of both worlds: what a contractor's printer may hold, and the sheets of a copy shop. */
export const PAPERS = {
  LETTER: { words: 'Letter', shortIn: 8.5, longIn: 11 },
  A4: { words: 'A4', shortIn: 210 / 25.4, longIn: 297 / 25.4 },
  TABLOID: { words: '11 x 17', shortIn: 11, longIn: 17 },
  A3: { words: 'A3', shortIn: 297 / 25.4, longIn: 420 / 25.4 },
} as const;
export type Paper = keyof typeof PAPERS;

/** The paper that an address asks for; Letter where it asks for none that there is. */
export function paperAsked(text: unknown): Paper {
  const asked = typeof text === 'string' ? text.toUpperCase() : '';
  return Object.hasOwn(PAPERS, asked) ? (asked as Paper) : 'LETTER';
}
