import {
  fastenerLabel,
  fastenerSchema,
  standardFasteners,
  type Fastener,
} from '../../engineering/fasteners/index.ts';
import { parseLength } from '../../engineering/units/index.ts';
import { readNumber } from '../../web/forms/read.ts';

/** What is on hand, as the page asks for it: boxes ticked, and entries of one's own. */
export interface Truck {
  readonly fasteners: readonly Fastener[];
  /** Values of the boxes that are ticked. */
  readonly ticked: ReadonlySet<string>;
  readonly own: readonly OwnEntry[];
  readonly errors: Readonly<Record<string, string>>;
}

/** A fastener of one's own, as typed. */
export interface OwnEntry {
  readonly kind: string;
  readonly diameter: string;
  readonly length: string;
}

export const OWN_ENTRIES = 4;

/** What an entry of one's own can be; wood screws go by gauge, structural screws by their report in the row's form. */
export const ownKinds = [
  { value: 'pneumatic', text: 'pneumatic nail' },
  { value: 'common', text: 'common nail' },
  { value: 'box', text: 'box nail' },
  { value: 'sinker', text: 'sinker' },
  { value: 'wood screw', text: 'wood screw (gauge × length)' },
  { value: 'lag screw', text: 'lag screw' },
  { value: 'bolt', text: 'bolt' },
] as const;

const listed = standardFasteners();

/** The list that is ticked off, a heading for each kind. */
export const truckList: readonly { readonly title: string; readonly labels: readonly string[] }[] = groups();

function groups(): { title: string; labels: string[] }[] {
  const found = new Map<string, string[]>();
  for (const { label, fastener } of listed) {
    const title =
      fastener.kind === 'nail'
        ? `${fastener.style.charAt(0).toUpperCase()}${fastener.style.slice(1)} nails`
        : `${fastener.kind.charAt(0).toUpperCase()}${fastener.kind.slice(1)}s`;
    found.set(title, [...(found.get(title) ?? []), label]);
  }
  return [...found].map(([title, labels]) => ({ title, labels }));
}

function ticks(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value];
  return Array.isArray(value) ? value.filter((one): one is string => typeof one === 'string') : [];
}

/** Reads the page's address: `on` for each ticked box, `own.0.kind`, `own.0.diameter`, `own.0.length`. */
export function readTruck(query: Readonly<Record<string, unknown>>): Truck {
  const ticked = new Set(ticks(query.on));
  const fasteners = listed.filter(({ label }) => ticked.has(label)).map(({ fastener }) => fastener);
  const errors: Record<string, string> = {};
  const text = (name: string): string => {
    const value = query[name];
    return typeof value === 'string' ? value.trim() : '';
  };
  const own = Array.from({ length: OWN_ENTRIES }, (_, index): OwnEntry => ({
    kind: text(`own.${index}.kind`) || 'pneumatic',
    diameter: text(`own.${index}.diameter`),
    length: text(`own.${index}.length`),
  }));
  own.forEach((entry, index) => {
    if (entry.diameter === '' && entry.length === '') return;
    const read = readOwn(entry);
    if ('sentence' in read) errors[`own.${index}.${read.at}`] = read.sentence;
    else if (!fasteners.some((one) => fastenerLabel(one) === fastenerLabel(read.fastener))) {
      fasteners.push(read.fastener);
    }
  });
  return { fasteners, ticked, own, errors };
}

type OwnReading =
  { readonly fastener: Fastener } | { readonly at: 'diameter' | 'length'; readonly sentence: string };

/** '.131' and '0.131"' are both inches here: a diameter is never feet. */
function readInches(text: string): number | null {
  const plain = readNumber(text);
  if (plain !== null) return plain;
  const reading = parseLength(text, { bareNumber: 'inches' });
  return 'inches' in reading ? reading.inches : null;
}

function readOwn({ kind, diameter, length }: OwnEntry): OwnReading {
  const lengthIn = readInches(length);
  if (lengthIn === null) return { at: 'length', sentence: 'Enter the length in inches: 3 1/4 or 3.25.' };
  const first =
    kind === 'wood screw' ? readNumber(diameter.replace(/^(#|no\.?)\s*/i, '')) : readInches(diameter);
  if (first === null) {
    return {
      at: 'diameter',
      sentence: kind === 'wood screw' ? 'Enter the gauge: 10.' : 'Enter the diameter in inches: 0.131.',
    };
  }
  const candidate =
    kind === 'wood screw'
      ? { kind, gauge: first, lengthIn }
      : kind === 'lag screw' || kind === 'bolt'
        ? { kind, diameterIn: first, lengthIn }
        : { kind: 'nail', style: kind, diameterIn: first, lengthIn };
  const parsed = fastenerSchema.safeParse(candidate);
  if (parsed.success) return { fastener: parsed.data };
  const atLength = parsed.error.issues.some((issue) => issue.path.includes('lengthIn'));
  return atLength
    ? { at: 'length', sentence: 'There is no such length of this fastener.' }
    : { at: 'diameter', sentence: 'There is no such size of this fastener.' };
}

/** The ticked boxes and entries as an address carries them to the next row. */
export function truckAddress({ ticked, own }: Truck): string {
  const query = new URLSearchParams();
  for (const label of ticked) query.append('on', label);
  own.forEach((entry, index) => {
    if (entry.diameter === '' && entry.length === '') return;
    query.append(`own.${index}.kind`, entry.kind);
    query.append(`own.${index}.diameter`, entry.diameter);
    query.append(`own.${index}.length`, entry.length);
  });
  return query.toString();
}
