import type { Site } from '../../inspection/support/site.ts';

const hash = 'a'.repeat(64);

/**
 * Adds fastening rows `R<from>` to `R<to>` with a version each by SQL, since through the service it would take minutes;
 * every second one is submitted. Their content and grounds are those of a row that the service made.
 */
export async function growItems(
  site: Site,
  from: number,
  to: number,
  modelOpeningId = site.openingId,
): Promise<void> {
  const { prisma } = site.test.deps;
  const { projectId, openingId } = site;
  const model = await prisma.version.findFirstOrThrow({
    where: { item: { openingId: modelOpeningId, kind: 'fastening' } },
    orderBy: { createdAt: 'asc' },
  });
  await prisma.$executeRaw`
    INSERT INTO item (project_id, opening_id, kind, key, title)
    SELECT ${projectId}::uuid, ${openingId}::uuid, 'fastening', 'R' || n, 'Row R' || n
    FROM generate_series(${from}::int, ${to}::int) n`;
  await prisma.$executeRaw`
    INSERT INTO version (project_id, item_id, number, content, rests_on, calculation, calculation_hash,
                         engine_version, hash, author_id, author_role, created_at)
    SELECT project_id, id, 1, ${model.content}, ${model.restsOn}, ${model.calculation}, ${model.calculationHash},
           ${model.engineVersion}, ${hash}, ${site.contractor.personId}::uuid, 'contractor', now()
    FROM item WHERE opening_id = ${openingId}::uuid AND kind = 'fastening' AND key ~ '^R[0-9]+$'
      AND substr(key, 2)::int BETWEEN ${from}::int AND ${to}::int`;
  const last = await prisma.submission.aggregate({ where: { openingId }, _max: { number: true } });
  const submission = await prisma.submission.create({
    data: {
      projectId,
      openingId,
      number: (last._max.number ?? 0) + 1,
      note: '',
      byId: site.contractor.personId,
    },
  });
  await prisma.$executeRaw`
    INSERT INTO submission_entry (submission_id, version_id)
    SELECT ${submission.id}::uuid, v.id FROM version v JOIN item i ON i.id = v.item_id
    WHERE i.opening_id = ${openingId}::uuid AND i.kind = 'fastening' AND i.key ~ '^R[0-9]+$'
      AND substr(i.key, 2)::int BETWEEN ${from}::int AND ${to}::int AND substr(i.key, 2)::int % 2 = 0`;
}

/** Adds further openings, further versions and questions of the beam, and photos of the house, opening and beam. */
export async function growOther(site: Site, from: number, to: number): Promise<void> {
  const { prisma } = site.test.deps;
  const { projectId, openingId, items } = site;
  const by = site.contractor.personId;
  const beam = items.Beam!;
  await prisma.$executeRaw`
    INSERT INTO opening (project_id, ordinal, name)
    SELECT ${projectId}::uuid, n + 1, 'Opening ' || n FROM generate_series(${from}::int, ${to}::int) n`;
  await prisma.$executeRaw`
    INSERT INTO question (project_id, item_id, text, by_id, at)
    SELECT ${projectId}::uuid, ${beam}::uuid, 'Question ' || n, ${by}::uuid, now() + n * interval '1 ms'
    FROM generate_series(${from}::int, ${to}::int) n`;
  for (const [subject, id] of [
    ['project', projectId],
    ['opening', openingId],
    ['item', beam],
  ] as const) {
    await prisma.$executeRaw`
      WITH added AS (
        INSERT INTO attachment (project_id, sha256, bytes, media_type, original_name, caption, shared_with_owner,
                                uploaded_by_id, uploaded_at)
        SELECT ${projectId}::uuid, md5(${subject} || n) || md5('more' || n), 1000, 'image/png', 'photo ' || n,
               ${subject} || ' ' || n, true, ${by}::uuid, now() + n * interval '1 ms'
        FROM generate_series(${from}::int, ${to}::int) n RETURNING id
      )
      INSERT INTO attachment_link (attachment_id, project_id, subject, subject_id)
      SELECT id, ${projectId}::uuid, ${subject}::attachment_subject, ${id}::uuid FROM added`;
  }
}

/**
 * Another project, in which none of the house's people is a member: rows with versions, submissions and photos, and three
 * times as many drawings with nothing entered.
 */
export async function growElsewhere(site: Site, count: number): Promise<void> {
  const { prisma } = site.test.deps;
  const by = site.contractor.personId;
  const project = await prisma.project.create({
    data: { name: 'Elsewhere', address: '1 Quarry Road', jurisdiction: 'Town', createdById: by },
  });
  const opening = await prisma.opening.create({
    data: { projectId: project.id, ordinal: 1, name: 'Back wall' },
  });
  await growItems({ ...site, projectId: project.id, openingId: opening.id }, 1, count, site.openingId);
  await prisma.$executeRaw`
    INSERT INTO item (project_id, opening_id, kind, key, title)
    SELECT ${project.id}::uuid, ${opening.id}::uuid, 'drawing', 'A' || n, 'Sheet A' || n
    FROM generate_series(1, ${count * 3}::int) n`;
  await prisma.$executeRaw`
    WITH added AS (
      INSERT INTO attachment (project_id, sha256, bytes, media_type, original_name, caption, uploaded_by_id)
      SELECT ${project.id}::uuid, md5('elsewhere' || n) || md5('more' || n), 1000, 'image/png', 'photo ' || n, '',
             ${by}::uuid
      FROM generate_series(1, ${count}::int) n RETURNING id
    )
    INSERT INTO attachment_link (attachment_id, project_id, subject, subject_id)
    SELECT id, ${project.id}::uuid, 'opening', ${opening.id}::uuid FROM added`;
}
