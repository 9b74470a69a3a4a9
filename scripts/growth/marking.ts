import type { PrismaClient } from '../../src/database/generated/client.ts';
import { demoSignIns } from '../../src/demo/people.ts';
import type { FasteningRow } from '../../src/engineering/fasteners/schedule/row.ts';
import { markMany } from '../../src/record/marks/service.ts';
import { submitVersions } from '../../src/record/submissions/service.ts';
import { saveVersion } from '../../src/record/versions/service.ts';
import { compose } from '../../src/web/compose.ts';
import { readConfig } from '../../src/web/config.ts';
import { actorsOf } from './actors.ts';

export interface Marking {
  /** A row of the schedule revised, handed in and returned, with what the first and the last take. */
  saveAndMark: () => Promise<{ saveMs: number; markMs: number }>;
}

/** Saves and marks in the demo's own project, by the use cases with all their listeners. */
export async function markingOf(prisma: PrismaClient): Promise<Marking> {
  const deps = compose(readConfig({ NODE_ENV: 'production', LOG_LEVEL: 'silent' }), prisma);
  const email = demoSignIns.find(({ role }) => role === 'contractor')?.email ?? '';
  const { projectId } = await prisma.membership.findFirstOrThrow({ where: { person: { email } } });
  const as = await actorsOf(prisma, projectId);
  const item = await prisma.item.findFirstOrThrow({
    where: { projectId, kind: 'fastening', opening: { ordinal: 1 } },
    include: { versions: { orderBy: { number: 'desc' }, take: 1 } },
    orderBy: { key: 'asc' },
  });
  let number = item.versions[0]?.number ?? 0;
  const content = JSON.parse(item.versions[0]?.content ?? '{}') as FasteningRow;
  return {
    async saveAndMark() {
      let start = performance.now();
      const saved = await saveVersion(deps, as('contractor'), {
        itemId: item.id,
        expectedNumber: number,
        content: { ...content, where: `Beam, trial ${number}` },
        reason: 'Timed.',
      });
      const saveMs = performance.now() - start;
      number = saved.number;
      await submitVersions(deps, as('contractor'), { openingId: item.openingId ?? '', note: 'Timed.' });
      start = performance.now();
      await markMany(deps, as('engineer'), {
        versions: [{ versionId: saved.versionId, hash: saved.hash, expectedMarkNumber: 0 }],
        word: 'returned',
        reason: 'Timed.',
      });
      return { saveMs, markMs: performance.now() - start };
    },
  };
}
