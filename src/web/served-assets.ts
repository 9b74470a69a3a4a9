import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import path from 'node:path';

export const assetFolder = path.join(import.meta.dirname, 'assets');
const textOf = (name: string) => readFileSync(path.join(assetFolder, name), 'utf8');

/** In this order: a later part may refine an earlier one. */
const STYLE_PARTS = [
  'tokens',
  'page',
  'frame',
  'forms',
  'choices',
  'parts',
  'ways',
  'checks',
  'drawings',
  'record',
  'schedule',
  'on-site',
  'changes',
] as const;

export interface StyleSheet {
  readonly address: string;
  readonly text: string;
}

/**
 * All parts as one sheet: on a slow line each further one costs a turn there and back before anything is seen. Its
 * address holds its hash, so that a browser may keep it for good and an upgrade is seen at once.
 */
function joinStyles(): StyleSheet {
  const parts = STYLE_PARTS.map((part) => textOf(`${part}.css`));
  const text = [...parts, `@media print {\n${textOf('print.css')}}\n`].join('\n');
  const hash = createHash('sha256').update(text).digest('hex').slice(0, 16);
  return { address: `/assets/lintelbook.${hash}.css`, text };
}

export const styleSheet: StyleSheet = joinStyles();

/** Whether an address is that of our sheet, as it is or as it was before an upgrade. */
export function isStyleSheet(address: string): boolean {
  return /^\/assets\/lintelbook\.[0-9a-f]{16}\.css$/.test(address);
}

/** Every module that a page's script stands on, from its own import lines: asked for at once, not one after another. */
function modulesOf(entry: string, found = new Set<string>()): ReadonlySet<string> {
  for (const [, name = ''] of textOf(entry).matchAll(/^(?:import .*|\} )from '\.\/([a-z-]+\.js)';$/gm)) {
    if (found.has(name)) continue;
    found.add(name);
    modulesOf(name, found);
  }
  return found;
}

export const pageModules: readonly string[] = [...modulesOf('lintelbook.js')].map(
  (name) => `/assets/${name}`,
);
