import { newsOnEvent } from '../notify/outbox/listener.ts';
import { demoSignIns } from './people.ts';
import { foundHouse } from './house.ts';
import { denToBoxRoom } from './openings/den-to-box-room.ts';
import { kitchenToPantry } from './openings/kitchen-to-pantry.ts';
import { firstProposal } from './openings/first-proposal.ts';
import { storyClock, type DemoDeps } from './telling.ts';

/** How far the demo's story is told: all of it, or up to the first proposal, which then waits for the engineer. */
export type DemoExtent = 'whole' | 'first proposal';

const LAST_DAY = 55;
const FIRST_PROPOSAL_DAY = 9;

/**
 * Loads the demo once; an installation that has its people has it. Everything goes through the use cases; of the
 * whole story nobody gets letters: it happened before they came.
 */
export async function loadDemo(given: DemoDeps, extent: DemoExtent): Promise<void> {
  const listeners = given.listeners?.filter(
    (listener) => extent === 'first proposal' || listener !== newsOnEvent,
  );
  const deps = { ...given, ...(listeners === undefined ? {} : { listeners }) };
  const emails = demoSignIns.map((one) => one.email);
  if ((await deps.prisma.person.count({ where: { email: { in: [...emails] } } })) > 0) return;
  const lastDay = extent === 'whole' ? LAST_DAY : FIRST_PROPOSAL_DAY;
  const telling = await foundHouse(deps, storyClock(deps.clock(), lastDay));
  // Another process that started at the same moment is loading it.
  if (telling === null) return;
  const { openingId } = await firstProposal(telling);
  if (extent === 'first proposal') return;
  await denToBoxRoom(telling, openingId);
  await kitchenToPantry(telling);
}
