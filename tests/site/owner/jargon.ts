/** What the trades say among themselves, and what the program calls its own parts: none of it is for an owner. */
const jargon = [
  [
    'stud',
    'jack',
    'king',
    'trimmer',
    'cripple',
    'header',
    'ply',
    'plies',
    'LVL',
    'glulam',
    'flitch',
    'joist',
    'rafter',
  ],
  [
    'shoring',
    'bearing',
    'hold point',
    'rough-in',
    'hanger',
    'tributary',
    'deflection',
    'moment',
    'shear',
    'uplift',
  ],
  ['psf', 'plf', 'psi', 'kip', 'ASD', 'NDS', 'IRC', 'ASCE', 'ACI'],
  [
    'SHA-256',
    'hash',
    'version',
    'submission',
    'survey',
    'stale',
    'finding',
    'checklist',
    'criteria',
    'item',
    'mark',
  ],
].flat();

/** The jargon in a text, by whole words, one and many alike. */
export function jargonIn(text: string): string[] {
  return jargon.filter((word) => new RegExp(`(^|[^a-z])${word}s?([^a-z]|$)`, 'i').test(text));
}
