import { listSalvage, sayOfSalvage } from '../../../src/site/salvage/service.ts';
import { logWork, planSequence, takeWorkBack } from '../../../src/site/sequence/service.ts';
import type { Site } from '../../inspection/support/site.ts';

/** A planned day, work out of its order, an entry taken back, and something to be used again. */
export async function planAndLog(site: Site): Promise<void> {
  const { deps } = site.test;
  const { openingId } = site;
  const builder = site.actor(site.contractor, 'contractor');
  const wall = { plannedOn: '2026-05-09', who: 'R. T.', notice: '', off: false };
  await planSequence(deps, builder, {
    openingId,
    expectedNumber: 0,
    change: { is: 'plan', steps: { wall_out: wall }, reason: '' },
  });
  const said = { openingId, doneOn: '2026-05-08', who: 'R. T.', note: '', allTheSame: true };
  const { workEntryId } = await logWork(deps, builder, { ...said, step: 'shoring' });
  await takeWorkBack(deps, builder, { workEntryId, reason: 'The other wall' });
  await logWork(deps, builder, { ...said, step: 'wall_out' });
  const listed = { what: 'Doors', howMany: '2', condition: '', keptAt: '' };
  await listSalvage(deps, builder, { openingId, ...listed });
  const line = await deps.prisma.salvageLine.findFirstOrThrow({ where: { openingId } });
  const owner = site.actor(site.owner, 'owner');
  await sayOfSalvage(deps, owner, { salvageLineId: line.id, word: 'keep', note: '' });
}
