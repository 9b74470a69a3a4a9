import type { FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import type { Beam, Footing, Shoring, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import type { Circuit } from '../../engineering/services/index.ts';
import { dayOf } from '../../house-time.ts';
import { answerQuestion, askQuestion, closeQuestion } from '../../record/questions/service.ts';
import { sayOnOwnersPage } from '../../site/owner/words.ts';
import { fileActs } from '../acts/files.ts';
import { itemActs } from '../acts/items.ts';
import { siteActs } from '../acts/site.ts';
import { workActs } from '../acts/work.ts';
import { visitActs } from '../acts/visits.ts';
import { demoHangers, demoShoring, demoSurvey, demoTimeZone } from '../cinder-ferry.ts';
import { demoFramingPlan } from '../pictures/sheet.ts';
import type { Telling } from '../telling.ts';

const YARD = 'Lower Town Lumber (invented)';

const shoring: Shoring = { ...demoShoring, offsetIn: 36, storeysShored: 1, bracesRelanded: false };

/** From the engineer's first reading to the final inspection: returned, revised, substituted, corrected, passed. */
export async function denToBoxRoom(telling: Telling, openingId: string): Promise<void> {
  const { deps, as, on } = telling;
  const items = itemActs(telling, openingId);
  const files = fileActs(telling);
  const visits = visitActs(telling, openingId, files);
  const site = siteActs(telling, openingId, files);
  const work = workActs(telling, openingId);
  const here = { subject: 'opening', subjectId: openingId } as const;

  on(10);
  await files.photo(here, 'wall before', 'The wall from the den', { shared: true });
  await files.photo(here, 'attic', 'Braces on the wall’s top plate, both slopes');
  await files.photo(here, 'panel', 'Panel as found');
  await files.photo(here, 'core hole', 'Core at the right end: 4 1/4 in');
  await items.add('shoring', 'shoring', 'Shoring plan', shoring);
  const planName = 'Framing plan of the wall';
  const plan = await demoFramingPlan(demoSurvey, {
    title: planName,
    revision: 'A',
    note: 'Braces as circles.',
  });
  const sha256 = await files.sheet(here, plan, planName);
  await items.add('drawing', 'A1', planName, {
    name: planName,
    revision: 'A',
    drawnOn: dayOf(telling.now(), demoTimeZone),
    issuedBy: as('contractor').name,
    sha256,
  });
  await items.submit('Shoring and the framing plan, which were missing.');

  on(11);
  await items.returnTo('beam', '40 psf: the hall beside it is not a sleeping room. Run it again.');
  await items.returnTo('support left', 'Hem-fir plate crushes under two jacks. Three.');
  await items.returnTo('support right', 'Hem-fir plate crushes under two jacks. Three.');
  await items.returnTo('footing left', 'Show the load to the soil, with a pad if it needs one.');
  await items.returnTo('footing right', 'The core says 4 1/4 in. A pad, please.');
  await items.returnTo(
    'shoring',
    'The upper storey is unshored, and the roof braces still stand on the wall.',
  );
  await items.change<FasteningRow>(
    'fastening N1',
    (row) => ({
      ...row,
      fastener: { kind: 'nail', style: 'common', diameterIn: 0.162, lengthIn: 3.5 },
      pattern: { kind: 'spaced', lengthIn: 136, rows: 3, spacingIn: 12, rowSpacingIn: 3, staggered: true },
      edgeDistanceIn: 1.75,
    }),
    'The side load of the rear joists has to cross the outer interface: longer nails, three rows.',
    'engineer',
  );
  const rear = await items.find('survey');
  const asked = await askQuestion(deps, as('engineer'), {
    itemId: rear.facts.itemId,
    text: 'Is the attic floored over the den, or is that storage on the ceiling joists only?',
  });
  on(12);
  await answerQuestion(deps, as('contractor'), {
    threadId: asked.threadId,
    text: 'No floor up there, two boards along the hatch. Counted as attic with light storage.',
  });

  on(13);
  await items.change<Survey>(
    'survey',
    (survey) => ({
      ...survey,
      strips: survey.strips.map((strip) => (strip.id === 'upper-floor' ? { ...strip, livePsf: 40 } : strip)),
    }),
    'Live load 40 psf over the whole floor.',
  );
  await items.change<Beam>(
    'beam',
    (beam) => ({
      ...beam,
      member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 11.875, plies: 3 },
      bearingLeftIn: 4.5,
      bearingRightIn: 4.5,
    }),
    'Deeper, for 40 psf.',
  );
  for (const end of ['left', 'right'] as const) {
    await items.change<Support>(
      `support ${end}`,
      // 2 5/8" less: what the 11 7/8" beam hangs below 2x10 joists.
      (pack) => ({ ...pack, jacks: 3, heightIn: 93 }),
      'Three jacks, cut for the deeper beam.',
    );
  }
  for (const end of ['left', 'right'] as const) {
    await items.change<Footing>(
      `footing ${end}`,
      (footing) => ({ ...footing, concretePsi: 3000 }),
      'Strength as ordered; the pad is still to be drawn.',
    );
  }
  await items.change<Shoring>(
    'shoring',
    (plan) => ({ ...plan, storeysShored: 2, bracesRelanded: true }),
    'Both storeys; roof braces set on strongbacks first.',
  );
  for (const hanger of demoHangers) {
    await items.add('hanger', hanger.side, `Hangers, ${hanger.side}`, hanger);
  }
  await items.recalculate();
  await items.proposeRows(
    'As the design asks for.',
    (joint) => !['beam plies', 'jack to king', 'beam seat'].includes(joint),
  );
  await items.submit('Second round, all of it.');

  on(14);
  await closeQuestion(deps, as('engineer'), { threadId: asked.threadId, text: 'Good, then 10 psf stays.' });
  await items.returnTo('footing left', 'Pad, with its size, on the strip as found.');
  await items.returnTo('footing right', 'Pad, with its size: the slab is too thin to spread anything.');
  await items.approveAll();
  await items.issue('Order and shore by this. No pour before the pads are in a set.');

  on(16);
  for (const end of ['left', 'right'] as const) {
    await items.change<Footing>(
      `footing ${end}`,
      (footing) => ({ ...footing, pad: { widthIn: 30, lengthIn: 30, thicknessIn: 12 } }),
      'Pads 30 x 30 x 12 in, cast against the ground.',
    );
  }
  await items.recalculate();
  await items.submit('The pads.');
  on(16, 16);
  await items.approveAll();
  await items.issue('With the pads.');
  await site.order(YARD, 'Deliver on day 24, lay flat, cover.');

  on(20);
  await items.change<Circuit>(
    'service S9',
    (circuit) => ({
      ...circuit,
      disposition: 're-routed',
      panelLabel: 'porch, bell',
      note: 'Traced to the porch light and the bell.',
    }),
    'Traced, relabelled, goes round by the return wall.',
  );
  await items.issue('Circuit 18 decided.');
  await work.plan({
    shoring: { inDays: 2, who: 'R. T. and crew', notice: 'noise and dust from eight to four' },
    wall_out: { inDays: 11, notice: 'the rooms below and above stay empty until evening' },
    beam_in: { inDays: 11 },
  });
  on(21);
  await site.services('made_safe', 'Licensed electrician of the contractor', {
    note: 'Off, locked, tested dead.',
  });
  on(22);
  await work.did(
    'hazards',
    'Floor tile 3 % asbestos, abated by a licensed firm; paint taken for lead.',
    'Abatement firm',
  );

  on(23);
  await work.did('shoring', 'Both storeys; roof braces on strongbacks.');
  await visits.visit({
    kind: 'shoring',
    scene: 'shoring',
    outcome: 'passed',
    summary: 'Both storeys shored.',
  });
  await files.photo(here, 'shoring', 'Temporary walls, ground floor', { shared: true });
  await sayOnOwnersPage(deps, as('owner'), {
    openingId,
    threadId: null,
    text: 'Is it safe to sleep upstairs this week?',
  });
  const worry = await deps.prisma.ownerWord.findFirstOrThrow({ where: { openingId }, select: { id: true } });
  await sayOnOwnersPage(deps, as('contractor'), {
    openingId,
    threadId: worry.id,
    text: 'No: the temporary walls carry the house now. Please sleep downstairs at the back until the inspector has passed the beam; I will say so here.',
  });

  on(24);
  await site.deliver(YARD, {
    instead: (goods) => (goods.kind === 'composite' ? { ...goods, class: 'LVL 1.9E' } : goods),
    scene: 'stamp 1.9E, 11 7/8',
    note: 'Ticket 7004 (invented).',
  });
  on(25);
  await items.change<Beam>(
    'beam',
    (beam) => ({ ...beam, member: { ...beam.member, class: 'LVL 1.9E' } as Beam['member'] }),
    'The yard sent 1.9E. Tried against the design: it passes.',
  );
  await items.recalculate();
  await items.submit('1.9E in place of 2.0E, as delivered.');
  on(25, 15);
  await items.approveAll();
  await items.issue('1.9E accepted; the plies as delivered may go in.');

  on(26);
  await work.did('dig', 'Two pads, four bars each way.');
  await visits.visit({
    kind: 'footing',
    scene: 'pads',
    outcome: 'passed',
    summary: 'Depth and ground as the set says.',
  });
  on(27);
  await work.did('pour', 'Ready mix, one truck.');
  await work.salvage('Oak strip flooring', '38 sq ft', 'sound, nails drawn', 'garage, on blocks');
  await work.salvage('Wall studs 2x6', '9 pieces', 'straight, for blocking', 'behind the house, covered');
  await work.decide('Oak strip flooring', 'keep', 'For patching the new room.');
  await work.decide('Wall studs 2x6', 'give_away');
  on(33, 16);
  await work.did('wall_out');
  await work.did('beam_in', 'Ply by ply, two jacks; let down slowly.');
  await files.photo(here, 'beam', 'Beam in, packs tight', { shared: true });
  await site.services('carried_out', 'Licensed electrician of the contractor');
  await work.did('roughed', '', 'Licensed electrician of the contractor');
  on(34);
  await askQuestion(deps, as('contractor'), {
    itemId: (await items.find('beam')).facts.itemId,
    text: 'The electrician bored a 7/8 in hole in the beam, 2 in above the bottom, 3 ft 1 in from the left pack. Photo attached to the opening. Leave it?',
  });
  await files.photo(here, 'hole', 'Hole in the beam, 3 ft 1 in from the left pack');
  on(36);
  await visits.visit({
    kind: 'electrical',
    scene: 'boxes',
    outcome: 'passed',
    summary: 'Boxes reachable, panel relabelled.',
  });
  await work.did('fastened');
  on(37);
  await visits.visit({
    kind: 'framing',
    scene: 'hangers',
    wrong: [
      {
        title: /hanger nails, rear/i,
        reason: 'Three hangers have 1 1/2 in nails where 3 in are called for.',
        location: 'Rear face, third to fifth from the left',
      },
    ],
    outcome: 'correction_needed',
    summary: 'Hangers; the rest is as the set says.',
  });
  on(38);
  await visits.answerCorrections('Pulled and driven anew, 3 in, every hole.', 'hangers');
  on(39);
  await visits.visit({
    kind: 'framing',
    scene: 'hangers',
    looksAt: ({ title }) => /hanger nails, rear/i.test(title),
    outcome: 'passed',
    summary: 'Hangers as the set says.',
  });
  on(39, 15);
  await work.did('shoring_out', 'Let down a quarter turn at a time; nothing moved.');
  on(41);
  await visits.visit({ kind: 'cover', scene: 'boxes', outcome: 'passed', summary: 'May be covered.' });
  on(42);
  await work.did('covered');
  on(43);
  await visits.visit({ kind: 'final', scene: 'finished', outcome: 'passed', summary: 'Final.' });
  await files.photo(here, 'finished', 'The bed-sitting room', { shared: true });
}
