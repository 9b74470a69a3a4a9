import type { Role } from '../../src/people/roles.ts';
import type { Visitor } from '../../tests/support/visitor.ts';
import type { OpenPage } from './open-page.ts';

/** Somebody at work in one opening of one project. */
export interface Worker {
  readonly role: Role;
  readonly visitor: Visitor;
  readonly screen: OpenPage;
  readonly base: string;
  readonly inProject: string;
  readonly inOpening: string;
  /** Items of the opening that this person changes or looks at. */
  readonly itemIds: readonly string[];
  readonly photo: Buffer;
}

/** One thing that a person does; resolves with false where another was first or there was nothing to do. */
export interface Act {
  readonly name: string;
  /** How often it is done, against the others of the role. */
  readonly weight: number;
  readonly does: (worker: Worker) => Promise<boolean>;
}

const page = (name: string, weight: number, address: (worker: Worker) => string): Act => ({
  name: `page: ${name}`,
  weight,
  async does(worker) {
    worker.screen.shows(await worker.visitor.page(worker.base + address(worker)));
    return true;
  },
});

const anyItem = ({ itemIds, inProject }: Worker) =>
  `${inProject}/items/${itemIds[Math.floor(Math.random() * itemIds.length)] ?? ''}`;

const workList = page('what waits', 3, () => '/');
const opening = page('opening', 3, ({ inOpening }) => inOpening);
const item = page('item', 4, anyItem);
const checklist = page('checklist', 3, ({ inOpening }) => `${inOpening}/checklist`);
const log = page('log', 1, ({ inProject }) => `${inProject}/log`);
const schedule = page('schedule', 1, ({ inOpening }) => `${inOpening}/schedule`);
const progress = page('progress', 4, ({ inOpening }) => `${inOpening}/progress`);
const deliveries = page('deliveries', 1, ({ inOpening }) => `${inOpening}/deliveries`);
const review = page('review', 2, ({ inOpening }) => `${inOpening}/review`);

/** The form of an item, typed into: the draft is kept as the page's script does it. */
const draft: Act = {
  name: 'draft kept',
  weight: 3,
  async does(worker) {
    const { visitor, base } = worker;
    const address = anyItem(worker);
    const html = await visitor.page(`${base}${address}/edit`);
    const answer = await visitor.submit(base, html, /\/versions$/, { where: words() }, `${address}/draft`);
    return expected(answer, [204], [409]);
  },
};

const save: Act = {
  name: 'version saved and handed in',
  weight: 2,
  async does(worker) {
    const { visitor, base, inOpening } = worker;
    const address = anyItem(worker);
    const html = await visitor.page(`${base}${address}/edit`);
    const typed = { where: words(), _reason: 'Seen again on site.' };
    if (!(await expected(await visitor.submit(base, html, /\/versions$/, typed), [303], [409]))) return false;
    const own = await visitor.page(base + inOpening);
    if (!own.includes('/submissions"')) return false;
    return expected(await visitor.submit(base, own, /\/submissions$/), [303], [409, 422]);
  },
};

const upload: Act = {
  name: 'photo uploaded',
  weight: 1,
  async does({ visitor, base, inOpening, photo }) {
    const html = await visitor.page(`${base}${inOpening}`);
    const file = { field: 'file', name: 'photo.jpg', mimeType: 'image/jpeg', buffer: photo };
    return expected(
      await visitor.upload(base, html, /\/attachments$/, { caption: words() }, file),
      [303],
      [],
    );
  },
};

const mark: Act = {
  name: 'mark',
  weight: 3,
  async does({ visitor, base }) {
    const list = await visitor.page(`${base}/`);
    const [waiting = ''] = list.split('<section').filter((part) => part.includes('To mark:'));
    const address = /href="(\/projects\/[^"]*\/items\/[0-9a-f-]{36})"/.exec(waiting)?.[1];
    if (address === undefined) return false;
    const html = await visitor.page(base + address);
    if (!/action="[^"]*\/marks"[\s\S]*value="returned"/.test(html)) return false;
    const typed = { word: 'returned', reason: words() };
    return expected(await visitor.submit(base, html, /\/marks$/, typed), [303], [409, 422]);
  },
};

/** Begins a visit where none is open, and passes the first check that waits. */
const finding: Act = {
  name: 'check passed',
  weight: 4,
  async does({ visitor, base, inOpening }) {
    const list = await visitor.page(`${base}${inOpening}/checklist`);
    let visit = /href="([^"]*\/visits\/[0-9a-f-]{36})"[^>]*>\s*Go on/.exec(list)?.[1];
    if (visit === undefined) {
      if (!list.includes(`${inOpening}/visits"`)) return false;
      const begun = await visitor.submit(base, list, /\/visits$/, { kind: 'framing' });
      if (begun.status !== 303) return expected(begun, [], [409, 422]);
      visit = begun.headers.get('location') ?? '';
    }
    const html = await visitor.page(base + visit);
    if (!html.includes('/findings"')) return false;
    const answer = await visitor.upload(base, html, /\/findings$/, { result: 'pass' }, null);
    return expected(answer, [303], [409, 422]);
  },
};

export const actsOf: Readonly<Record<Role, readonly Act[]>> = {
  contractor: [workList, opening, item, schedule, deliveries, checklist, draft, save, upload],
  engineer: [workList, opening, item, review, log, mark],
  inspector: [workList, checklist, log, finding],
  owner: [workList, progress],
};

async function expected(
  answer: Response,
  good: readonly number[],
  told: readonly number[],
): Promise<boolean> {
  await answer.body?.cancel();
  if (good.includes(answer.status)) return true;
  if (told.includes(answer.status)) return false;
  throw new Error(`${new URL(answer.url).pathname} answered ${answer.status}`);
}

function words(): string {
  return `Beam, look ${Math.floor(Math.random() * 1e6)}`;
}
