import type { PrismaClient } from '../../../database/generated/client.ts';
import { dayText } from '../../../house-time.ts';
import type { Option } from '../../../web/forms/spec.ts';

/** What drawings come as. Photos are evidence, not drawings. */
const DRAWN = ['application/pdf', 'image/png'];
const LISTED = 200;

/**
 * The files that a drawing of an opening can be: PDF and PNG uploaded to the opening or to one of its items, newest
 * first, as choices whose value is the file's hash. One query.
 */
export async function drawingFiles(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  projectId: string,
  openingId: string,
): Promise<Option[]> {
  const rows = await prisma.$queryRaw<
    { sha256: string; original_name: string; caption: string; uploaded_at: Date; time_zone: string }[]
  >`
    SELECT DISTINCT ON (a.uploaded_at, a.sha256) a.sha256, a.original_name, a.caption, a.uploaded_at, p.time_zone
    FROM attachment a
    JOIN project p ON p.id = a.project_id
    JOIN attachment_link l ON l.attachment_id = a.id
    WHERE a.project_id = ${projectId}::uuid AND l.project_id = a.project_id AND a.media_type = ANY(${DRAWN})
      AND ((l.subject = 'opening' AND l.subject_id = ${openingId}::uuid)
        OR (l.subject = 'item' AND l.subject_id IN (SELECT id FROM item WHERE opening_id = ${openingId}::uuid)))
    ORDER BY a.uploaded_at DESC, a.sha256 LIMIT ${LISTED}`;
  const named = new Map<string, Option>();
  for (const { sha256, original_name, caption, uploaded_at, time_zone } of rows) {
    // The same bytes sent twice are one file.
    if (named.has(sha256)) continue;
    const name = caption === '' ? original_name : `${caption} (${original_name})`;
    named.set(sha256, {
      value: sha256,
      text: `${name}, ${dayText(uploaded_at, time_zone)}, ${sha256.slice(0, 12)}`,
    });
  }
  return [...named.values()];
}
