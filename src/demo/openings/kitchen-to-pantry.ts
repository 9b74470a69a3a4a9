import type { Beam, Footing, Shoring, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import type { Circuit, Service } from '../../engineering/services/index.ts';
import { serviceTitle } from '../../engineering/services/index.ts';
import { createOpening } from '../../record/openings/service.ts';
import { askQuestion } from '../../record/questions/service.ts';
import { sayOnOwnersPage } from '../../site/owner/words.ts';
import { fileActs } from '../acts/files.ts';
import { itemActs } from '../acts/items.ts';
import { siteActs } from '../acts/site.ts';
import { workActs } from '../acts/work.ts';
import { visitActs } from '../acts/visits.ts';
import { demoHangers, demoShoring } from '../cinder-ferry.ts';
import type { Telling } from '../telling.ts';

/** The second wall of the invented house, in the rear: 11'-0" long, an 8'-0" opening. Invented data. */
const survey: Survey = {
  datum: 'right cross wall, kitchen face',
  wallLengthIn: 132,
  wallThicknessIn: 3.5,
  wallHeightIn: 97.125,
  openingFromIn: 18,
  openingToIn: 114,
  wallIsExterior: false,
  below: 'slab',
  storeysAbove: 1,
  strips: [
    {
      id: 'upper-floor',
      label: 'Upper floor, bath and hall',
      evidence: 'measured',
      carries: 'floor',
      frontSpanIn: 120,
      rearSpanIn: 108,
      overWall: 'lapped',
      spacingIn: 16,
      deadPsf: 15,
      livePsf: 40,
    },
    {
      id: 'attic',
      label: 'Attic ceiling',
      evidence: 'assumed',
      carries: 'ceiling',
      frontSpanIn: 120,
      rearSpanIn: 108,
      overWall: 'lapped',
      spacingIn: 16,
      deadPsf: 8,
      livePsf: 10,
    },
  ],
  wallsAbove: [
    {
      id: 'bath-wall',
      label: 'Bath wall',
      evidence: 'measured',
      fromIn: 0,
      toIn: 132,
      heightIn: 96,
      deadPsf: 10,
    },
  ],
  braces: [],
  landings: [],
};

const beam: Beam = {
  placement: 'flush',
  member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 9.25, plies: 2 },
  bearingLeftIn: 3,
  bearingRightIn: 3,
};

const supports: Support[] = (['left', 'right'] as const).map((end) => ({
  end,
  kind: 'built-up',
  species: 'DF-L',
  grade: 'No.2',
  size: '2x4',
  jacks: 2,
  kings: 1,
  heightIn: 95.625,
  fastening: 'nailed',
  bracedWeakAxisIn: 24,
  plateSpecies: 'DF-L',
  plateGrade: 'No.2',
}));

const footings: Footing[] = (['left', 'right'] as const).map((end) => ({
  end,
  found: 'cored',
  foundWidthIn: 12,
  foundThicknessIn: 4,
  postTensioned: 'no',
  concretePsi: 2500,
  pad: { widthIn: 24, lengthIn: 24, thicknessIn: 10 },
}));

const shoring: Shoring = { ...demoShoring, offsetIn: 30, storeysShored: 2, bracesRelanded: false };

const none = { run: 'passes through' as const, cuts: [], note: '' };
const services: Service[] = [
  {
    ...none,
    what: 'circuit',
    breaker: '11',
    panelLabel: 'kitchen counter',
    amps: 20,
    poles: '1',
    protection: 'GFCI',
    awg: '12',
    conductor: 'copper',
    cable: 'NM with ground',
    multiWire: false,
    sharedNeutral: false,
    boxes: 2,
    feeds: 'counter outlets, both sides of the range',
    disposition: 're-routed',
  },
  {
    ...none,
    what: 'circuit',
    breaker: '22',
    panelLabel: '',
    amps: 15,
    poles: '1',
    protection: 'none',
    awg: '14',
    conductor: 'copper',
    cable: 'not read',
    multiWire: false,
    sharedNeutral: false,
    boxes: 0,
    feeds: '',
    run: 'not traced',
    disposition: 'not decided',
    note: 'Goes up beside the bath. Not found dead with any breaker off: prove before touching.',
  } satisfies Circuit,
];

/**
 * A wall in full swing: a set is out, the yard sent the wrong plies, the inspector wants braces on the temporary wall,
 * and a hidden roof brace has just put the whole load path in question.
 */
export async function kitchenToPantry(telling: Telling): Promise<void> {
  const { deps, as, on } = telling;
  on(44);
  const { openingId } = await createOpening(deps, as('contractor'), { name: 'Kitchen to pantry' });
  const items = itemActs(telling, openingId);
  const files = fileActs(telling);
  const visits = visitActs(telling, openingId, files);
  const site = siteActs(telling, openingId, files);
  const work = workActs(telling, openingId);
  const here = { subject: 'opening', subjectId: openingId } as const;

  on(47);
  await items.add('survey', 'survey', 'Survey', survey);
  for (const [index, content] of services.entries()) {
    await items.add('service', `S${index + 1}`, serviceTitle(content), content);
  }
  await files.photo(here, 'wall before', 'The wall from the kitchen', { shared: true });
  await items.add('beam', 'beam', 'Beam', beam);
  for (const content of supports) {
    await items.add(
      'support',
      content.end,
      content.end === 'left' ? 'Left support' : 'Right support',
      content,
    );
  }
  for (const content of footings) {
    await items.add(
      'footing',
      content.end,
      content.end === 'left' ? 'Left footing' : 'Right footing',
      content,
    );
  }
  await items.add('shoring', 'shoring', 'Shoring plan', shoring);
  for (const hanger of demoHangers) await items.add('hanger', hanger.side, `Hangers, ${hanger.side}`, hanger);
  await items.proposeRows('As the design asks for.');
  await items.submit('Second wall, same way as the first.');

  on(49);
  await items.returnTo(
    'fastening N2',
    'Which face do you drive from? Say so, and from where the studs are reached.',
  );
  for (const row of ['fastening N7', 'fastening N13']) {
    await items.approveInSpite(row, 'Keeps the plate in its place; nothing pushes it toward the edge here.');
  }
  await items.approveAll();
  await items.issue('Without row N2, which is still open.');
  await site.order('Lower Town Lumber (invented)', 'Friday, after ten.');
  on(50);
  await site.services('made_safe', 'Licensed electrician of the contractor', {
    except: ['S2'],
    note: 'Off, locked, tested dead.',
  });

  await work.plan({
    shoring: { inDays: 1, who: 'R. T. and crew' },
    wall_out: { inDays: 4, notice: 'no kitchen all day; water off from ten to noon' },
    beam_in: { inDays: 5 },
  });
  on(51);
  await work.did('hazards', 'Paint taken for lead; no tile here.');
  await work.did('shoring');
  await work.salvage('Pine door with frame', 'one', 'paint may hold lead', 'pantry');
  on(52, 11);
  await site.deliver('Lower Town Lumber (invented)', {
    only: ({ kind }) => kind === 'composite' || kind === 'sawn',
    instead: (goods) => (goods.kind === 'composite' ? { ...goods, class: 'LVL 1.9E' } : goods),
    scene: 'stamp 1.9E, 9 1/4',
    note: 'Ticket 7031 (invented). Nails and hangers to follow.',
  });
  on(53);
  await visits.visit({
    kind: 'shoring',
    scene: 'shoring without braces',
    wrong: [
      {
        title: /brac/i,
        reason: 'No diagonal braces on the rear wall yet.',
        location: 'Rear temporary wall',
      },
    ],
    outcome: 'correction_needed',
    summary: 'Braces on the rear wall, then call again. The wall stays.',
  });
  await work.plan(
    {
      shoring: { inDays: -2, who: 'R. T. and crew' },
      wall_out: { inDays: 6, notice: 'no kitchen all day; water off from ten to noon' },
      beam_in: { inDays: 7 },
    },
    'The yard sent the wrong plies, and the rear temporary wall still wants braces.',
  );
  await sayOnOwnersPage(deps, as('owner'), {
    openingId,
    threadId: null,
    text: 'Will the kitchen have water next week?',
  });

  on(54);
  await items.change<Survey>(
    'survey',
    (found) => ({
      ...found,
      roof: {
        riseIn12: 8,
        frontEaveToRidgeIn: 156,
        rearEaveToRidgeIn: 156,
        deadOnSlopePsf: 15,
        slippery: false,
      },
      braces: [
        {
          id: 'brace-1',
          label: 'Brace behind the bath wall',
          evidence: 'measured',
          side: 'rear',
          positionIn: 40,
          angleDeg: 55,
          lengthIn: 90,
          tributaryFt2: 24,
        },
      ],
    }),
    'A roof brace came to light when the ceiling was opened.',
  );
  await files.photo(here, 'attic', 'The brace behind the bath wall');
  await items.recalculate('beam');
  await items.recalculate('support right');
  await items.recalculate('footing right');
  await items.submit('Beam and right end anew, with the brace. The left end follows.');
  on(55);
  await items.approveAll(['footing right']);
  await askQuestion(deps, as('engineer'), {
    itemId: (await items.find('survey')).facts.itemId,
    text: 'Where does the purlin over that brace run, and is it the only one? A photo along the slope, please.',
  });
}
