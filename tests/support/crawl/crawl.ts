import { demoPassword, demoSignIns } from '../../../src/demo/people.ts';
import { Visitor } from '../visitor.ts';
import { bareMoments, featuresOf, linksOf, patternOf } from './page-source.ts';

export type Walker = 'signed out' | (typeof demoSignIns)[number]['role'];
export const walkers: readonly Walker[] = ['signed out', ...demoSignIns.map(({ role }) => role)];

/** What a link led to. */
export interface Reached {
  readonly who: Walker;
  readonly address: string;
  /** The address without what tells one house, item or page number from the next. */
  readonly pattern: string;
  readonly status: number;
  /** Is it a page, or something to download? */
  readonly page: boolean;
  /** What the page is made of: elements with their classes, each once. Empty for what is no page. */
  readonly features: ReadonlySet<string>;
  /** Times of day that no browser can write in its own zone. */
  readonly bareMoments: readonly string[];
  /** The page that linked to it first. */
  readonly from: string;
}

export interface Walk {
  readonly who: Walker;
  readonly cookies: string;
  readonly reached: readonly Reached[];
}

/** A pattern is known when this many of its pages in a row were made of nothing new. */
const NOTHING_NEW = 4;

/**
 * Signs in as one of the demo's people and follows every link there is, a few addresses for each pattern; begins
 * at the first page and where `alsoFrom` says.
 */
export async function walkAs(base: string, who: Walker, alsoFrom: readonly string[] = []): Promise<Walk> {
  const visitor = await signIn(base, who);
  const queue = ['/', ...alsoFrom].map((address) => ({ address, from: '' }));
  const known = new Set(queue.map(({ address }) => address));
  const patterns = new Map<string, { features: Set<string>; nothingNew: number }>();
  const reached: Reached[] = [];
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const { address, from } = next;
    const pattern = patternOf(address);
    const met = patterns.get(pattern) ?? { features: new Set<string>(), nothingNew: 0 };
    patterns.set(pattern, met);
    if (met.nothingNew >= NOTHING_NEW) continue;
    const response = await visitor.get(base + address);
    const page = (response.headers.get('content-type') ?? '').startsWith('text/html');
    const location = response.headers.get('location');
    const redirected = location !== null && response.status < 400;
    // Of what is downloaded, one is enough.
    if (!page && !redirected) met.nothingNew = NOTHING_NEW;
    if (!page) await response.body?.cancel();
    const html = page ? await response.text() : '';
    const features = featuresOf(html);
    met.nothingNew = addTo(met.features, features) ? 0 : met.nothingNew + 1;
    const { status } = response;
    reached.push({
      who,
      address,
      pattern,
      from,
      status,
      features,
      bareMoments: bareMoments(html),
      page: page && !redirected,
    });
    for (const link of redirected ? [location] : linksOf(html)) {
      const target = new URL(link, base + address);
      if (target.origin !== new URL(base).origin) continue;
      const path = target.pathname + target.search;
      if (known.has(path)) continue;
      known.add(path);
      queue.push({ address: path, from: address });
    }
  }
  return { who, cookies: visitor.cookies(), reached };
}

export async function signIn(base: string, who: Walker): Promise<Visitor> {
  const visitor = new Visitor();
  const email = demoSignIns.find(({ role }) => role === who)?.email;
  if (email === undefined) return visitor;
  const html = await visitor.page(`${base}/sign-in`);
  const answer = await visitor.submit(base, html, /^\/sign-in$/, { email, password: demoPassword });
  if (answer.status !== 303) throw new Error(`signing in as the ${who} answered ${answer.status}`);
  return visitor;
}

/** A visitor's cookies as a browser takes them. */
export function cookiesFor(base: string, cookies: string): { name: string; value: string; url: string }[] {
  if (cookies === '') return [];
  return cookies.split('; ').map((pair) => {
    const cut = pair.indexOf('=');
    return { name: pair.slice(0, cut), value: pair.slice(cut + 1), url: base };
  });
}

/** Adds what is not there yet, and says whether there was anything. */
function addTo(known: Set<string>, features: ReadonlySet<string>): boolean {
  const before = known.size;
  for (const feature of features) known.add(feature);
  return known.size > before;
}

/**
 * The pages worth looking at: the first of each pattern, and every further one that has an element which none
 * before it had, whoever was shown it. `eachPerson`: the first of each pattern for everyone.
 */
export function worthSeeing(walks: readonly Walk[], { eachPerson = false } = {}): Reached[] {
  const known = new Set<string>();
  const met = new Set<string>();
  return walks.flatMap(({ who, reached }) =>
    reached.filter(({ page, pattern, features }) => {
      if (!page) return false;
      const first = addTo(met, new Set([eachPerson ? `${who} ${pattern}` : pattern]));
      return addTo(known, features) || first;
    }),
  );
}
