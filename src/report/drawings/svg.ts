import { refuseUnless } from '../../engineering/trace/refusal.ts';

type AttributeValue = string | number | undefined;

/**
 * What XML 1.0 has no place for: control characters other than tab, line feed and return, the two
 * non-characters, and halves of surrogate pairs (in a Unicode expression the range matches halves only).
 */
const NOT_XML = /(?![\t\n\r])\p{Cc}|[\uFFFE\uFFFF]|[\uD800-\uDFFF]/gu;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text that people wrote, made harmless in content and in attributes. */
export function escapeText(text: string): string {
  return text.replace(NOT_XML, '\uFFFD').replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);
}

/** Hundredths are finer than any screen or printer shows; refuses what is not finite. */
export function coordinate(value: number): string {
  refuseUnless(Number.isFinite(value), 'drawing', 'A drawing can only be made from finite numbers.');
  const rounded = Math.round(value * 100) / 100;
  return `${rounded === 0 ? 0 : rounded}`;
}

/** One element. Children are markup already; text goes through `escapeText` first. */
export function element(
  name: string,
  attributes: Readonly<Record<string, AttributeValue>>,
  ...children: readonly string[]
): string {
  const written = Object.entries(attributes)
    .filter((entry): entry is [string, string | number] => entry[1] !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escapeText(value)}"`)
    .join('');
  const inside = children.join('');
  return inside === '' ? `<${name}${written}/>` : `<${name}${written}>${inside}</${name}>`;
}

export function group(className: string, ...children: readonly string[]): string {
  return element('g', { class: className }, ...children);
}

export interface Frame {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly width: number;
  readonly height: number;
  /** Drawing units for one inch of the real thing, for whoever measures the drawing. */
  readonly unitsPerInch?: number;
  /** Size on paper, for drawings to scale: what a printer makes of them. */
  readonly paper?: { readonly paperWidthIn: number; readonly paperHeightIn: number };
}

/** The outermost element, with title and description for screen readers. */
export function drawingFrame(frame: Frame, ...children: readonly string[]): string {
  const id = frame.id.replace(/[^A-Za-z0-9_-]/g, '-');
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: frame.paper === undefined ? undefined : `${coordinate(frame.paper.paperWidthIn)}in`,
      height: frame.paper === undefined ? undefined : `${coordinate(frame.paper.paperHeightIn)}in`,
      viewBox: `0 0 ${coordinate(frame.width)} ${coordinate(frame.height)}`,
      class: 'dw',
      role: 'img',
      'aria-labelledby': `${id}-title`,
      'aria-describedby': `${id}-description`,
      'font-family': "system-ui, 'Noto Sans', 'Liberation Sans', sans-serif",
      'data-units-per-inch': frame.unitsPerInch === undefined ? undefined : `${frame.unitsPerInch}`,
    },
    element('title', { id: `${id}-title` }, escapeText(frame.title)),
    element('desc', { id: `${id}-description` }, escapeText(frame.description)),
    ...children,
  );
}
