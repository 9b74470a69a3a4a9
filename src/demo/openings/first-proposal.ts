import { serviceTitle } from '../../engineering/services/index.ts';
import { createOpening } from '../../record/openings/service.ts';
import { itemActs } from '../acts/items.ts';
import { demoBeam, demoFootings, demoRows, demoSupports, demoSurvey } from '../cinder-ferry.ts';
import { demoServices } from '../cinder-ferry-services.ts';
import type { Telling } from '../telling.ts';

const endName = { left: 'Left', right: 'Right' } as const;

/** Days 6 to 9: survey, services and a first proposal for the wall between den and box room, handed in. */
export async function firstProposal(telling: Telling): Promise<{ openingId: string }> {
  const { deps, as, on } = telling;
  on(1, 14);
  const { openingId } = await createOpening(deps, as('contractor'), { name: 'Den to box room' });
  const items = itemActs(telling, openingId);
  on(6);
  await items.add('survey', 'survey', 'Survey', demoSurvey);
  for (const [index, content] of demoServices.entries()) {
    await items.add('service', `S${index + 1}`, serviceTitle(content), content);
  }
  on(9);
  await items.add('beam', 'beam', 'Beam', demoBeam);
  for (const content of demoSupports) {
    await items.add('support', content.end, `${endName[content.end]} support`, content);
  }
  for (const content of demoFootings) {
    await items.add('footing', content.end, `${endName[content.end]} footing`, content);
  }
  for (const { key, title, content } of demoRows) await items.add('fastening', key, title, content);
  await items.submit('First proposal. Live load as for sleeping rooms.');
  return { openingId };
}
