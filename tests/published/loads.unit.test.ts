import { describe, expect, test } from 'vitest';
import {
  basicCombinationTexts,
  deflectionLimit,
  driftHeight,
  flatRoofSnow,
  materialWeight,
  minimumLiveLoad,
  minimumRoofSnow,
  ridgeDrift,
  roofLiveLoad,
  roofSnow,
  slopeFactor,
  snowDensityPcf,
  twoSpanReactions,
  type DeflectionMember,
  type LiveLoadUse,
  type SnowSite,
} from '../../src/engineering/loads/index.ts';
import { woodDensityPcf, findSpecies } from '../../src/engineering/materials/wood-species.ts';
import statics from './reference/beam-statics.json' with { type: 'json' };
import irc from './reference/irc-tables.json' with { type: 'json' };
import loads from './reference/loads.json' with { type: 'json' };
import { holds, named, numberOf, textOf, woodRecords, type WoodRecord } from './wood-record.ts';

type Judge = (record: WoodRecord) => void;

const site16: SnowSite = {
  asce7: '7-16',
  groundSnowPsf: 0,
  exposureFactor: 1,
  thermalFactor: 1,
  importanceFactor: 1,
};

const combination: Judge = (record) => {
  const asce7 = textOf(record.inputs, 'standard') === 'ASCE 7-16' ? '7-16' : '7-22';
  const number = Number(record.id.at(-1));
  expect(basicCombinationTexts(asce7, 'ASD')[number - 1]).toBe(textOf(record.expected, 'combination'));
};

const roofLive: Judge = (record) => {
  for (const asce7 of ['7-16', '7-22'] as const) {
    const { psf } = roofLiveLoad({
      asce7,
      tributaryFt2: numberOf(record.inputs, 'tributaryArea'),
      riseIn12: numberOf(record.inputs, 'riseIn12_F'),
      unreducedPsf: numberOf(record.inputs, 'Lo'),
    });
    holds(record, 'Lr', psf);
  }
};

const flat: Judge = (record) => {
  const site: SnowSite = {
    ...site16,
    groundSnowPsf: numberOf(record.inputs, 'pg'),
    exposureFactor: numberOf(record.inputs, 'Ce'),
    thermalFactor: numberOf(record.inputs, 'Ct'),
    importanceFactor: numberOf(record.inputs, 'Is'),
  };
  holds(record, 'pf', flatRoofSnow(site).psf);
};

const withoutImportance: Judge = (record) => {
  expect(textOf(record.expected, 'formula')).toBe(
    'pf = 0.7 Ce Ct pg, with pg mapped per risk category at strength level; ASD uses 0.7S',
  );
  const site: SnowSite = { ...site16, asce7: '7-22', groundSnowPsf: 50, importanceFactor: 1.2 };
  expect(flatRoofSnow(site).psf).toBeCloseTo(35, 9);
  expect(flatRoofSnow(site).steps[0]!.formula).toBe('pf = 0.7 · Ce · Ct · pg');
  expect(basicCombinationTexts('7-22', 'ASD')[2]).toContain('0.7S');
};

const minimum: Judge = (record) => {
  const site = {
    ...site16,
    groundSnowPsf: numberOf(record.inputs, 'pg'),
    importanceFactor: numberOf(record.inputs, 'Is'),
  };
  holds(record, 'pm', minimumRoofSnow(site, 1).psf);
};

const slope: Judge = (record) => {
  const { factor } = slopeFactor({
    asce7: '7-16',
    riseIn12: numberOf(record.inputs, 'riseIn12'),
    thermalFactor: numberOf(record.inputs, 'Ct'),
    slippery: false,
  });
  holds(record, 'Cs', factor);
};

const narrowGable: Judge = (record) => {
  const site = {
    ...site16,
    groundSnowPsf: numberOf(record.inputs, 'pg'),
    importanceFactor: numberOf(record.inputs, 'Is'),
  };
  for (const riseIn12 of [0.5, 4, 7]) {
    const { cases } = roofSnow(site, {
      riseIn12,
      slippery: false,
      simpleRafters: true,
      eaveToRidge: { frontIn: 240, rearIn: 240 },
    });
    const front = cases.find((way) => way.snowCase === 'front leeward')!;
    const rear = cases.find((way) => way.snowCase === 'rear leeward')!;
    holds(record, 'leeward', front.front.uniformPsf);
    holds(record, 'windward', front.rear.uniformPsf);
    holds(record, 'leeward', rear.rear.uniformPsf);
    holds(record, 'windward', rear.front.uniformPsf);
  }
};

const wideGable: Judge = (record) => {
  const ground = numberOf(record.inputs, 'pg');
  const fetch = numberOf(record.inputs, 'W_lu');
  const site = { ...site16, groundSnowPsf: ground };
  const drift = ridgeDrift(site, 12 / numberOf(record.inputs, 'S_run_per_unit_rise'), fetch, fetch);
  holds(record, 'gamma', snowDensityPcf(ground));
  holds(record, 'hd', driftHeight(site, fetch).heightFt);
  holds(record, 'surcharge', drift.surchargePsf);
  holds(record, 'surchargeLength', drift.lengthFt);
};

/** The record's words → the library's entry; the thickness where the entry is by the inch. */
const WEIGHTS: Readonly<Record<string, readonly [id: string, thicknessIn?: number]>> = {
  'asphalt shingles': ['asphalt-shingles'],
  'gypsum board 1/2in (0.55 psf per 1/8in)': ['gypsum-board', 0.5],
  'plywood, per 1/8in': ['plywood', 0.125],
  'fiberglass batt per inch (up to)': ['fiberglass-batt', 1],
  'hardwood flooring 7/8in': ['hardwood-7-8in'],
  'wood stud wall 2x4 at 16in, 1/2in gypsum both sides': ['partition-gypsum-both-sides'],
  'exterior 2x6 wall, gypsum, insulation, siding': ['exterior-2x6-siding'],
  'clay tile roofing (varies)': ['clay-tile-roman'],
  'roof with light covering and framing': ['roof-light'],
  'roof with heavier covering or ceiling attached': ['roof-heavy'],
  floor: ['floor-usual'],
  'floor with tile or heavy partitions': ['floor-heavy'],
  'ceiling, no storage': ['ceiling-no-storage'],
  'ceiling, limited storage': ['ceiling-limited-storage'],
};

const weight =
  (key: 'material' | 'assembly'): Judge =>
  (record) => {
    const [id, thicknessIn] = WEIGHTS[textOf(record.inputs, key)] ?? [];
    const entry = id === undefined ? undefined : materialWeight(id);
    expect(entry, textOf(record.inputs, key)).toBeDefined();
    expect(entry!.perInch === true).toBe(thicknessIn !== undefined);
    holds(record, 'load', entry!.psf * (thicknessIn ?? 1));
  };

const density: Judge = (record) => {
  const species = findSpecies(textOf(record.inputs, 'species'));
  holds(record, 'density', woodDensityPcf(species.specificGravity, 15));
};

const LOAD_JUDGES: readonly (readonly [RegExp, Judge])[] = [
  [/^ASD-7-(16|22)-\d$/, combination],
  [/^LR-/, roofLive],
  [/^PF-\d+-/, flat],
  [/^PF-722$/, withoutImportance],
  [/^PM-/, minimum],
  [/^CS-/, slope],
  [/^UNB-narrow$/, narrowGable],
  [/^UNB-24-40$/, wideGable],
  [/^DL-/, weight('material')],
  [/^DLP-/, weight('assembly')],
  [/^DENS-/, density],
];

const liveLoad: Judge = (record) => {
  const use = textOf(record.inputs, 'use') as LiveLoadUse;
  for (const edition of ['2018', '2021', '2024'] as const) {
    holds(record, 'live', minimumLiveLoad(use, { irc: edition }).psf);
  }
};

const decks: Judge = (record) => {
  holds(record, 'decks', minimumLiveLoad('decks', { irc: '2021' }).psf);
  expect(textOf(record.expected, 'balconies_2018on')).toBe(
    '1.5 times the area served (2021), 60 psf in older tables',
  );
  const rooms = minimumLiveLoad('rooms other than sleeping rooms', { irc: '2021' }).psf;
  expect(minimumLiveLoad('exterior balconies', { irc: '2021' }).psf).toBe(1.5 * rooms);
  expect(minimumLiveLoad('exterior balconies', { irc: '2018' }).psf).toBe(60);
};

const deflection: Judge = (record) => {
  const member = textOf(record.inputs, 'member') as DeflectionMember;
  const { ratio } = deflectionLimit(member, { irc: '2021' });
  expect(`L/${ratio}`).toBe(textOf(record.expected, 'limit'));
};

const IRC_JUDGES: readonly (readonly [RegExp, Judge])[] = [
  [/^R301\.5-decks$/, decks],
  [/^R301\.5-/, liveLoad],
  [/^R301\.7-/, deflection],
];

function judgeOf(judges: readonly (readonly [RegExp, Judge])[], record: WoodRecord): Judge {
  const found = judges.find(([pattern]) => pattern.test(record.id));
  if (found === undefined) throw new Error(`no check for ${record.id}`);
  return found[1];
}

const loadRecords = woodRecords(loads);
const ircRecords = woodRecords(irc).filter((record) => /^R301\.[57]/.test(record.id));

describe('published loads', () => {
  test.each(loadRecords.map((record) => [named(record), record] as const))('%s', (_name, record) => {
    judgeOf(LOAD_JUDGES, record)(record);
  });
});

describe('published live loads and deflection limits', () => {
  test('the reference holds both tables', () => {
    expect(ircRecords.filter((record) => record.id.startsWith('R301.5')).length).toBeGreaterThan(0);
    expect(ircRecords.filter((record) => record.id.startsWith('R301.7')).length).toBeGreaterThan(0);
  });

  test.each(ircRecords.map((record) => [named(record), record] as const))('%s', (_name, record) => {
    judgeOf(IRC_JUDGES, record)(record);
  });
});

describe('published two-span beams against the three-moment equation of the take-off', () => {
  const byId = new Map(woodRecords(statics).map((record) => [record.id, record]));
  test.each([
    ['BS-10', 500, 500],
    ['BS-11', 500, 0],
  ])('%s', (id, frontPlf, rearPlf) => {
    const record = byId.get(id)!;
    const reactions = twoSpanReactions({ span: 10, load: frontPlf }, { span: 10, load: rearPlf });
    holds(record, 'R@0ft', reactions.farFront);
    holds(record, 'R@10ft', reactions.wall);
    holds(record, 'R@20ft', reactions.farRear);
    holds(record, 'Mmax_negative', reactions.wallMoment);
  });
});
