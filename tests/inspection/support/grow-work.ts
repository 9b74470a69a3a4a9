import { randomUUID } from 'node:crypto';
import { canonicalJson } from '../../../src/record/canonical.ts';
import type { SetContent } from '../../../src/record/sets/content.ts';
import type { Site } from './site.ts';

const hash = 'b'.repeat(64);

/**
 * Adds, by SQL, what grows with the work on site: checks of the newest set, closed visits, deliveries with a line each,
 * orders, and open questions. One of each for every number from `from` to `to`.
 */
export async function growWork(site: Site, from: number, to: number): Promise<void> {
  const { prisma } = site.test.deps;
  const { projectId, openingId, items } = site;
  const by = site.contractor.personId;
  const inspector = site.inspector.personId;
  const set = await prisma.approvedSet.findFirstOrThrow({
    where: { openingId },
    orderBy: { number: 'desc' },
  });
  const model = await prisma.check.findFirstOrThrow({
    where: { setId: set.id, visitKind: 'framing' },
    orderBy: { ordinal: 'asc' },
  });
  await prisma.$executeRaw`
    INSERT INTO "check" (project_id, set_id, version_id, key, ordinal, visit_kind, title, criterion, clause, how_to_look,
                         photo_required, hold_point)
    SELECT ${projectId}::uuid, ${set.id}::uuid, ${model.versionId}::uuid, 'grown:' || n, 1000 + n, 'framing',
           'Grown check ' || n, 'Tight', 'Clause', 'By hand', false, 'cover'
    FROM generate_series(${from}::int, ${to}::int) n`;
  await prisma.$executeRaw`
    WITH opened AS (
      INSERT INTO visit (project_id, opening_id, set_id, number, kind, opened_by_id, opened_at)
      SELECT ${projectId}::uuid, ${openingId}::uuid, ${set.id}::uuid, 100 + n, 'electrical', ${inspector}::uuid,
             now() + n * interval '1 ms'
      FROM generate_series(${from}::int, ${to}::int) n RETURNING id
    )
    INSERT INTO visit_closing (visit_id, project_id, outcome, portion, summary, signed_name, closed_by_id)
    SELECT id, ${projectId}::uuid, 'no_access', '', 'Nobody there', 'In Spector', ${inspector}::uuid FROM opened`;
  await prisma.$executeRaw`
    WITH arrived AS (
      INSERT INTO delivery (project_id, opening_id, number, yard, note, by_id, at)
      SELECT ${projectId}::uuid, ${openingId}::uuid, 100 + n, 'Yard ' || n, '', ${by}::uuid, now() + n * interval '1 ms'
      FROM generate_series(${from}::int, ${to}::int) n RETURNING id, number, at
    )
    INSERT INTO delivery_line (project_id, delivery_id, client_key, set_id, line_id, called_for, delivered, count,
                               off_ground, covered, differences, note, by_id, at)
    SELECT ${projectId}::uuid, id, 'grown-key', ${set.id}::uuid, 'elsewhere', ${goods}, ${goods}, 1, true, true, '[]',
           'Grown line ' || (number - 100), ${by}::uuid, at
    FROM arrived`;
  await prisma.$executeRaw`
    INSERT INTO material_order (project_id, opening_id, set_id, number, yard, lines, note, by_id, at)
    SELECT ${projectId}::uuid, ${openingId}::uuid, ${set.id}::uuid, 100 + n, '', '[]', 'Grown order ' || n,
           ${by}::uuid, now() + n * interval '1 ms'
    FROM generate_series(${from}::int, ${to}::int) n`;
  await prisma.$executeRaw`
    INSERT INTO question (project_id, item_id, text, by_id, at)
    SELECT ${projectId}::uuid, ${items.Beam!}::uuid, 'Grown question ' || n, ${by}::uuid, now() + n * interval '1 ms'
    FROM generate_series(${from}::int, ${to}::int) n`;
}

const goods = canonicalJson({ kind: 'nail', style: 'common', diameterIn: 0.148, lengthIn: 3 });

/**
 * A set of an opening of its own, as large as asked: its content alone, which is what its page is made of. Answers its
 * id.
 */
export async function growSet(site: Site, size: number): Promise<string> {
  const { prisma } = site.test.deps;
  const model = await prisma.approvedSet.findFirstOrThrow({ where: { number: 1 } });
  const content = JSON.parse(model.content) as SetContent;
  const many = <Entry>(make: (place: number) => Entry) =>
    Array.from({ length: size }, (_, place) => make(place + 1));
  const [entry] = content.entries;
  const grown: SetContent = {
    ...content,
    entries: many((n) => ({
      ...entry!,
      itemId: randomUUID(),
      versionId: randomUUID(),
      title: `Grown entry ${n}`,
    })),
    gaps: many((n) => ({
      itemId: randomUUID(),
      kind: 'fastening',
      key: `G${n}`,
      title: `Row ${n}`,
      sentence: `Grown gap ${n}`,
    })),
    changes: many((n) => ({
      itemId: randomUUID(),
      kind: 'fastening',
      title: `Grown change ${n}`,
      what: 'changed',
      was: 1,
      now: 2,
      lines: [],
    })),
    openQuestions: many((n) => ({
      threadId: randomUUID(),
      itemId: randomUUID(),
      itemTitle: 'Beam',
      text: `Grown question ${n}`,
    })),
    reliance: [{ ...content.reliance[0]!, items: many((n) => `Row ${n}`) }],
  };
  const last = await prisma.opening.aggregate({
    where: { projectId: site.projectId },
    _max: { ordinal: true },
  });
  const opening = await prisma.opening.create({
    data: { projectId: site.projectId, ordinal: (last._max.ordinal ?? 0) + 1, name: `Of ${size}` },
  });
  const set = await prisma.approvedSet.create({
    data: {
      projectId: site.projectId,
      openingId: opening.id,
      number: 1,
      content: canonicalJson(grown),
      hash,
      note: '',
      issuedById: site.engineer.personId,
    },
  });
  return set.id;
}
