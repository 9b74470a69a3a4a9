import { Prisma } from '../../database/generated/client.ts';
import type { ItemState } from '../items/state.ts';
import { factsQuery, stateInSql } from '../items/store.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import type { Transaction } from '../events/append.ts';
import { sectionStates, type StateSection, type WorkingRole } from './sections.ts';

/** One thing that waits, as a list shows it. */
export interface WaitingItem {
  readonly projectId: string;
  readonly projectName: string;
  readonly openingId: string | null;
  readonly openingName: string | null;
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly state: ItemState['is'];
  /** The newest version's number; null where nothing was entered yet. */
  readonly number: number | null;
  /** Since when it waits. */
  readonly since: Date;
  /** The engineer's reason, where there is one. */
  readonly reason: string;
}

export interface SectionRow extends WaitingItem {
  readonly role: WorkingRole;
  readonly section: StateSection;
  /** Of the whole section, whatever the page. */
  readonly total: number;
  readonly oldest: Date;
}

export interface SectionCursor {
  readonly role: WorkingRole;
  readonly section: StateSection;
  readonly since: Date;
  readonly itemId: string;
}

/** Oldest first; what was handed over in one act stands as on the opening's page, down the load's way. */
const asListed = Prisma.sql`since, kind::item_kind, list_key(key), key, "itemId"`;

/**
 * The first `limit` items of every section of a person, oldest first, with the section's count; or the page of one
 * section after a cursor. One query.
 */
export async function sectionRows(
  tx: Transaction,
  kinds: KindRegistry,
  personId: string,
  limit: number,
  after?: SectionCursor,
): Promise<SectionRow[]> {
  const reviewable = kinds.all.filter((kind) => kind.reviewable).map((kind) => kind.kind);
  const wanted = sectionStates.filter(
    ({ role, section }) => after === undefined || (role === after.role && section === after.section),
  );
  const beyond =
    after === undefined
      ? Prisma.sql`true`
      : Prisma.sql`(since, kind::item_kind, list_key(key), key, "itemId") > (
          SELECT ${after.since}::timestamptz, kind, list_key(key), key, id FROM item WHERE id = ${after.itemId}::uuid)`;
  return tx.$queryRaw<SectionRow[]>`
    WITH wanted AS (
      SELECT * FROM unnest(${wanted.map((row) => row.role)}::role[], ${wanted.map((row) => row.section)}::text[],
                           ${wanted.map((row) => row.state)}::text[]) AS w(role, section, state)
    ), mine AS (
      SELECT project_id, role FROM membership WHERE person_id = ${personId}::uuid AND revoked_at IS NULL
    ), facts AS (
      ${factsQuery}
      WHERE i.project_id IN (SELECT project_id FROM mine) AND i.kind = ANY(${reviewable}::item_kind[])
    ), standing AS (
      SELECT f.*, ${stateInSql} AS state FROM facts f
    ), waiting AS (
      SELECT mine.role::text AS role, wanted.section, project.id AS "projectId", project.name AS "projectName",
             opening.id AS "openingId", opening.name AS "openingName",
             s.item_id AS "itemId", s.kind, s.key, s.title, s.state, s.number,
             COALESCE(s.marked_at, s.submitted_at, s.version_at, s.item_created_at) AS since,
             COALESCE(s.mark_reason, '') AS reason
      FROM standing s
      JOIN project ON project.id = s.project_id
      JOIN mine ON mine.project_id = s.project_id
      JOIN wanted ON wanted.role = mine.role AND wanted.state = s.state
      LEFT JOIN opening ON opening.id = s.opening_id
      WHERE s.state <> 'revised' OR NOT EXISTS (SELECT 1 FROM set_entry WHERE version_id = s.version_id)
    ), counted AS (
      SELECT waiting.*, count(*) OVER section_of ::int AS total, min(since) OVER section_of AS oldest
      FROM waiting WINDOW section_of AS (PARTITION BY role, section)
    ), placed AS (
      SELECT counted.*,
             row_number() OVER (PARTITION BY role, section ORDER BY ${asListed}) AS place
      FROM counted WHERE ${beyond}
    )
    SELECT role, section, "projectId", "projectName", "openingId", "openingName", "itemId", kind, key, title,
           state, number, since, reason, total, oldest
    FROM placed WHERE place <= ${limit} ORDER BY role, section, ${asListed}`;
}

/** Items by id with their project and opening, for lists whose items were found otherwise. */
export async function waitingItems(tx: Transaction, itemIds: readonly string[]): Promise<WaitingItem[]> {
  return tx.$queryRaw<WaitingItem[]>`
    SELECT f.*, ${stateInSql} AS state FROM (
      SELECT facts.*, project.id AS "projectId", project.name AS "projectName", opening.id AS "openingId",
             opening.name AS "openingName", facts.item_id AS "itemId",
             COALESCE(facts.marked_at, facts.submitted_at, facts.version_at) AS since,
             COALESCE(facts.mark_reason, '') AS reason
      FROM (${factsQuery} WHERE i.id = ANY(${[...itemIds]}::uuid[])) facts
      JOIN project ON project.id = facts.project_id
      LEFT JOIN opening ON opening.id = facts.opening_id
    ) f ORDER BY since, "itemId"`;
}

/** The projects in which a person holds one of these roles now. */
export async function projectsAs(
  tx: Transaction,
  personId: string,
  roles: readonly WorkingRole[],
): Promise<ReadonlyMap<string, WorkingRole>> {
  const rows = await tx.membership.findMany({
    where: { personId, revokedAt: null, role: { in: [...roles] } },
    select: { projectId: true, role: true },
  });
  return new Map(rows.map((row) => [row.projectId, row.role === 'engineer' ? 'engineer' : 'contractor']));
}

/** A question that waits for the person: open, and the last word is somebody else's. */
export interface WaitingQuestion {
  readonly role: WorkingRole;
  readonly projectId: string;
  readonly projectName: string;
  readonly itemId: string;
  readonly itemTitle: string;
  readonly threadId: string;
  readonly text: string;
  readonly byName: string;
  /** When the last word was said. */
  readonly since: Date;
  readonly total: number;
  readonly oldest: Date;
}

export async function waitingQuestions(
  tx: Transaction,
  personId: string,
  limit: number,
  after?: { readonly since: Date; readonly threadId: string },
): Promise<WaitingQuestion[]> {
  const beyond =
    after === undefined
      ? Prisma.sql`true`
      : Prisma.sql`(since, "threadId") > (${after.since}::timestamptz, ${after.threadId}::uuid)`;
  return tx.$queryRaw<WaitingQuestion[]>`
    WITH mine AS (
      SELECT project_id, role FROM membership
      WHERE person_id = ${personId}::uuid AND revoked_at IS NULL AND role IN ('contractor', 'engineer')
    ), waiting AS (
      SELECT mine.role::text AS role, project.id AS "projectId", project.name AS "projectName",
             i.id AS "itemId", i.title AS "itemTitle", q.id AS "threadId", q.text, asker.name AS "byName",
             last.at AS since
      FROM question q
      JOIN mine ON mine.project_id = q.project_id
      JOIN project ON project.id = q.project_id
      JOIN item i ON i.id = q.item_id
      JOIN person asker ON asker.id = q.by_id
      JOIN LATERAL (
        SELECT said.at, said.by_id FROM question said
        WHERE said.id = q.id OR said.thread_id = q.id ORDER BY said.at DESC, said.id DESC LIMIT 1
      ) last ON last.by_id <> ${personId}::uuid
      WHERE q.thread_id IS NULL
        AND NOT EXISTS (SELECT 1 FROM question closing WHERE closing.thread_id = q.id AND closing.closes)
    ), counted AS (
      SELECT waiting.*, count(*) OVER ()::int AS total, min(since) OVER () AS oldest FROM waiting
    )
    SELECT * FROM counted WHERE ${beyond} ORDER BY since, "threadId" LIMIT ${limit}`;
}
