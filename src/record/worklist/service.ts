import { NotFound } from '../../problems.ts';
import type { Transaction } from '../events/append.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import { loadStale } from '../staleness/store.ts';
import type { StaleReason } from '../staleness/rules.ts';
import { readTimeCursor, writeTimeCursor, type TimeCursor } from '../time-cursor.ts';
import type { RecordDeps } from '../use-case.ts';
import { sectionStates, workingRoles, type Section, type WorkingRole } from './sections.ts';
import {
  projectsAs,
  sectionRows,
  waitingItems,
  waitingQuestions,
  type SectionRow,
  type WaitingItem,
  type WaitingQuestion,
} from './store.ts';

/** Whose first page it is; over all projects, each with the role held in it. */
export interface Viewer {
  readonly personId: string;
}

export interface StaleItem extends WaitingItem {
  readonly reasons: readonly StaleReason[];
}

/** One heading of a work list: how many wait, since when, and the first of them, oldest first. */
export interface WorkSection<Entry> {
  readonly role: WorkingRole;
  readonly section: Section;
  readonly count: number;
  readonly oldest: Date | null;
  readonly entries: readonly Entry[];
  /** Hand in as `after` for the next page; null where all are shown. */
  readonly next: string | null;
}

export interface Worklist {
  /** Every section of the roles that the person holds somewhere, also the empty ones. */
  readonly items: readonly WorkSection<WaitingItem>[];
  readonly stale: readonly WorkSection<StaleItem>[];
  readonly questions: WorkSection<WaitingQuestion> | null;
}

/** Of whoever is neither contractor nor engineer anywhere. */
export const nothingWaits: Worklist = { items: [], stale: [], questions: null };

const PAGE = 20;

/**
 * What waits for a person, over all projects: a fixed number of queries, however many projects and items.
 * What is stale is shown under the contractor's role, who recalculates, and under the engineer's, who is asked again.
 */
export async function readWorklist(
  deps: Pick<RecordDeps, 'prisma' | 'kinds'>,
  viewer: Viewer,
  input: { readonly limit?: number } = {},
): Promise<Worklist> {
  const limit = input.limit ?? PAGE;
  const tx = deps.prisma;
  const projects = await projectsAs(tx, viewer.personId, workingRoles);
  if (projects.size === 0) return nothingWaits;
  const held = workingRoles.filter((role) => [...projects.values()].includes(role));
  const [rows, stale, questions] = await Promise.all([
    sectionRows(tx, deps.kinds, viewer.personId, limit + 1),
    staleOf(tx, deps.kinds, projects),
    waitingQuestions(tx, viewer.personId, limit + 1),
  ]);
  return {
    items: emptySections(held).map(({ role, section }) =>
      itemSection(
        role,
        section,
        rows.filter((row) => row.role === role && row.section === section),
        limit,
      ),
    ),
    stale: held.map((role) => staleSection(role, stale.get(role) ?? [], limit)),
    questions: questionSection(questions, held, limit),
  };
}

interface AskedPage {
  readonly role: WorkingRole;
  readonly after: string;
  readonly limit?: number;
}

/** The next page of what is out of date. @throws NotFound for a cursor that this program did not write. */
export async function readStalePage(
  deps: Pick<RecordDeps, 'prisma' | 'kinds'>,
  viewer: Viewer,
  { role, after, limit = PAGE }: AskedPage,
): Promise<WorkSection<StaleItem>> {
  const cursor = readTimeCursor(after);
  const projects = await projectsAs(deps.prisma, viewer.personId, [role]);
  const own = (await staleOf(deps.prisma, deps.kinds, projects)).get(role) ?? [];
  return staleSection(role, own, limit, cursor);
}

/** The next page of the open questions, in whatever role. @throws NotFound as above */
export async function readQuestionsPage(
  deps: Pick<RecordDeps, 'prisma'>,
  viewer: Viewer,
  { role, after, limit = PAGE }: AskedPage,
): Promise<WorkSection<WaitingQuestion>> {
  const { at: since, id: threadId } = readTimeCursor(after);
  const rows = await waitingQuestions(deps.prisma, viewer.personId, limit + 1, { since, threadId });
  return { ...pageOfQuestions(rows, limit), role };
}

/** Everything out of date in these projects, oldest first, under the role held in each. */
async function staleOf(
  tx: Transaction,
  kinds: KindRegistry,
  projects: ReadonlyMap<string, WorkingRole>,
): Promise<ReadonlyMap<WorkingRole, readonly StaleItem[]>> {
  const found = new Map<WorkingRole, StaleItem[]>();
  if (projects.size === 0) return found;
  const reasons = await loadStale(tx, kinds, { projectIds: [...projects.keys()] });
  const items = reasons.size === 0 ? [] : await waitingItems(tx, [...reasons.keys()]);
  for (const item of items) {
    const role = projects.get(item.projectId);
    if (role === undefined) continue;
    const own = found.get(role) ?? [];
    own.push({ ...item, reasons: reasons.get(item.itemId) ?? [] });
    found.set(role, own);
  }
  return found;
}

function staleSection(
  role: WorkingRole,
  own: readonly StaleItem[],
  limit: number,
  after: TimeCursor | null = null,
): WorkSection<StaleItem> {
  const left = after === null ? own : own.filter((item) => isAfter(item.since, item.itemId, after));
  const entries = left.slice(0, limit);
  const last = entries.at(-1);
  return {
    role,
    section: 'out of date',
    count: own.length,
    oldest: own[0]?.since ?? null,
    entries,
    next: left.length > limit && last ? writeTimeCursor(last.since, last.itemId) : null,
  };
}

/** In the order of the query that read them: by time, then by id. */
function isAfter(at: Date, id: string, after: TimeCursor): boolean {
  return at.getTime() === after.at.getTime() ? id > after.id : at > after.at;
}

/** The next page of one section of states. @throws NotFound for a cursor that this program did not write. */
export async function readWorklistPage(
  deps: Pick<RecordDeps, 'prisma' | 'kinds'>,
  viewer: Viewer,
  input: {
    readonly role: WorkingRole;
    readonly section: string;
    readonly after: string;
    readonly limit?: number;
  },
): Promise<WorkSection<WaitingItem>> {
  const { role, after } = input;
  const section = sectionStates.find((row) => row.role === role && row.section === input.section)?.section;
  if (section === undefined) throw new NotFound();
  const { at: since, id: itemId } = readTimeCursor(after);
  const cursor = { role, section, since, itemId };
  const limit = input.limit ?? PAGE;
  const rows = await sectionRows(deps.prisma, deps.kinds, viewer.personId, limit + 1, cursor);
  return itemSection(role, section, rows, limit);
}

function emptySections(held: readonly WorkingRole[]): readonly Pick<SectionRow, 'role' | 'section'>[] {
  const seen = new Map(sectionStates.map(({ role, section }) => [`${role} ${section}`, { role, section }]));
  return [...seen.values()].filter(({ role }) => held.includes(role));
}

function itemSection(
  role: WorkingRole,
  section: SectionRow['section'],
  /** One more than is shown, where there are more. */
  rows: readonly SectionRow[],
  limit: number,
): WorkSection<WaitingItem> {
  const entries = rows.slice(0, limit);
  const last = entries.at(-1);
  return {
    role,
    section,
    count: rows[0]?.total ?? 0,
    oldest: rows[0]?.oldest ?? null,
    entries,
    next: rows.length > limit && last ? writeTimeCursor(last.since, last.itemId) : null,
  };
}

function questionSection(
  questions: readonly WaitingQuestion[],
  held: readonly WorkingRole[],
  limit: number,
): WorkSection<WaitingQuestion> | null {
  const [role] = held;
  if (role === undefined) return null;
  return { ...pageOfQuestions(questions, limit), role: questions[0]?.role ?? role };
}

/** @param rows one more than is shown, where there are more */
function pageOfQuestions(
  rows: readonly WaitingQuestion[],
  limit: number,
): Omit<WorkSection<WaitingQuestion>, 'role'> {
  const entries = rows.slice(0, limit);
  const last = entries.at(-1);
  return {
    section: 'open questions',
    count: rows[0]?.total ?? 0,
    oldest: rows[0]?.oldest ?? null,
    entries,
    next: rows.length > limit && last ? writeTimeCursor(last.since, last.threadId) : null,
  };
}
