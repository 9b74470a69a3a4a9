import type { PrismaClient } from '../../database/generated/client.ts';
import { readTogether, type ProjectViewer } from '../../record/read-together.ts';
import { blockedSentences } from './rules.ts';
import { mismatchesOf } from './store.ts';
import { fullWords } from '../materials/words.ts';

/** A delivered line that does not match the set in force: on the first page of who has to deal with it. */
export interface WaitingMismatch {
  readonly projectId: string;
  readonly projectName: string;
  readonly deliveryId: string;
  readonly deliveryLineId: string;
  readonly openingName: string;
  readonly words: string;
  readonly differences: readonly string[];
  /** What it holds up. */
  readonly blocks: readonly string[];
  readonly since: Date;
}

const SHOWN = 20;

/** Over all projects in which the person is contractor or engineer, oldest first. */
export async function readMismatches(
  prisma: PrismaClient,
  personId: string,
  viewerOf: (projectId: string) => ProjectViewer,
): Promise<readonly WaitingMismatch[]> {
  const suspects = await prisma.$queryRaw<{ projectId: string; projectName: string; openingId: string }[]>`
      SELECT DISTINCT project.id AS "projectId", project.name AS "projectName",
             delivery.opening_id AS "openingId"
      FROM delivery_line line
      JOIN delivery ON delivery.id = line.delivery_id
      JOIN project ON project.id = line.project_id
      JOIN membership mine ON mine.project_id = project.id AND mine.person_id = ${personId}::uuid
        AND mine.revoked_at IS NULL AND mine.role IN ('contractor', 'engineer')
      LEFT JOIN delivery_withdrawal gone ON gone.delivery_line_id = line.id
      WHERE gone.id IS NULL AND (line.differences <> '[]' OR line.set_id <> (
        SELECT id FROM approved_set newest WHERE newest.opening_id = delivery.opening_id
        ORDER BY newest.number DESC LIMIT 1))`;
  const waiting: WaitingMismatch[] = [];
  // One opening after the other: whoever has a hundred must not take every connection.
  for (const { projectId, projectName, openingId } of suspects) {
    const { materials, wrong } = await readTogether(
      viewerOf(projectId),
      ['delivered and wrong', openingId],
      () => mismatchesOf(prisma, projectId, openingId),
    );
    for (const { held, standing } of wrong) {
      const { delivered, differences } = held;
      waiting.push({
        projectId,
        projectName,
        deliveryId: delivered.deliveryId,
        deliveryLineId: delivered.deliveryLineId,
        openingName: materials.name,
        words: fullWords(delivered.goods),
        differences,
        blocks: standing === undefined ? [] : blockedSentences([standing], materials.ordinal),
        since: delivered.at,
      });
    }
  }
  return waiting.sort((one, other) => one.since.getTime() - other.since.getTime()).slice(0, SHOWN);
}
