import { describe, expect, it } from 'vitest';
import { flitchSection } from '../../src/engineering/flitch/index.ts';
import {
  A36,
  A992,
  derive,
  flexuralStrength,
  OMEGA,
  shearStrength,
  STEEL_E_PSI,
  wideFlange,
} from '../../src/engineering/steel/index.ts';
import type { Editions } from '../../src/engineering/trace/index.ts';
import steel from './reference/steel.json' with { type: 'json' };
import examples from './reference/worked-examples.json' with { type: 'json' };

interface Value {
  readonly value: number;
}
interface Reference {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly tolerance: { readonly rel?: number; readonly exact?: boolean };
  readonly source: { readonly title: string };
  readonly provenance: string;
}

const editions: Editions = { asce7: '7-16', nds: '2018', irc: '2021', aci318: '318-19', aisc360: '360-16' };
const records = steel.records as unknown as readonly Reference[];
const record = (id: string) => records.find((entry) => entry.id === id)!;
const named = (entry: Reference) => `${entry.id} — ${entry.source.title} (${entry.provenance})`;
const expected = (entry: Reference, key: string) => (entry.expected[key] as Value).value;

function holds(entry: Reference, key: string, actual: number): void {
  const target = expected(entry, key);
  const rel = entry.tolerance.exact === true ? 1e-12 : (entry.tolerance.rel ?? 0);
  expect(Math.abs(actual - target), `${entry.id} ${key}: ${actual} against ${target}`).toBeLessThanOrEqual(
    rel * Math.abs(target),
  );
}

const sections = records.filter((entry) => 'Ix' in entry.expected);
const strengths = records.filter((entry) => entry.id.endsWith('-ASD'));
const others = ['A36', 'A992', 'W12x26-Lb10'];

describe('published steel values', () => {
  it('leaves no record out', () => {
    expect(
      [...sections, ...strengths]
        .map((entry) => entry.id)
        .concat(others)
        .sort(),
    ).toEqual(records.map((entry) => entry.id).sort());
  });

  it.each(sections.map((entry) => [named(entry), entry] as const))('%s: properties', (_, entry) => {
    const shape = wideFlange(entry.id);
    const derived = derive(shape);
    holds(entry, 'A', shape.areaIn2);
    holds(entry, 'd', shape.depthIn);
    holds(entry, 'tw', shape.webIn);
    holds(entry, 'bf', shape.flangeWidthIn);
    holds(entry, 'tf', shape.flangeIn);
    holds(entry, 'Ix', shape.inertiaIn4);
    holds(entry, 'Sx', shape.sectionIn3);
    holds(entry, 'Zx', shape.plasticIn3);
    holds(entry, 'rx', Math.sqrt(shape.inertiaIn4 / shape.areaIn2));
    holds(entry, 'Iy', shape.weakInertiaIn4);
    holds(entry, 'ry', derived.weakRadiusIn);
    holds(entry, 'J', shape.torsionIn4);
    holds(entry, 'rts', derived.effectiveRadiusIn);
    holds(entry, 'ho', derived.flangeCentroidsIn);
  });

  it.each(strengths.map((entry) => [named(entry), entry] as const))(
    '%s: ASD strengths at 50 ksi',
    (_, entry) => {
      const shape = wideFlange(entry.inputs.shape as string);
      const flexure = flexuralStrength({
        shape,
        fyPsi: A992.fyPsi,
        unbracedIn: 0,
        momentFactorCb: 1,
        editions,
      });
      holds(entry, 'Mp_over_omega_full_brace', flexure.allowableLbIn / 12_000);
      holds(entry, 'Lp', flexure.plasticLengthOfFlangeIn / 12);
      holds(entry, 'Lr', flexure.elasticLengthIn / 12);
      holds(entry, 'V_over_omega', shearStrength(shape, A992.fyPsi, editions).allowableLb / 1000);
    },
  );

  it(`${named(record('W12x26-Lb10'))}: inelastic lateral-torsional buckling`, () => {
    const entry = record('W12x26-Lb10');
    const flexure = flexuralStrength({
      shape: wideFlange('W12x26'),
      fyPsi: A992.fyPsi,
      unbracedIn: 120,
      momentFactorCb: 1,
      editions,
    });
    holds(entry, 'Mn', flexure.nominalLbIn / 12_000);
    holds(entry, 'Mn_over_omega', flexure.allowableLbIn / 12_000);
    expect(flexure.governs).toBe('lateral-torsional buckling');
  });

  it(`${named(record('A36'))}: plate grade`, () => {
    const entry = record('A36');
    holds(entry, 'Fy', A36.fyPsi / 1000);
    holds(entry, 'Fu', A36.fuPsi / 1000);
    holds(entry, 'E', STEEL_E_PSI / 1000);
    // 0.4 Fy is 0.6 Fy ÷ 1.50; 0.6 Fy is Fy ÷ 1.67 rounded up, so the factor used is 0.2 percent below it.
    holds(entry, 'Fv_0.4Fy', (0.6 * A36.fyPsi) / OMEGA.shearStockyWeb / 1000);
    const allowable = A36.fyPsi / OMEGA.flexure / 1000;
    expect(allowable).toBeLessThanOrEqual(expected(entry, 'Fb_0.6Fy'));
    expect(allowable).toBeGreaterThan(0.997 * expected(entry, 'Fb_0.6Fy'));
  });

  it(`${named(record('A992'))}: shape grade`, () => {
    holds(record('A992'), 'Fy', A992.fyPsi / 1000);
    holds(record('A992'), 'Fu', A992.fuPsi / 1000);
  });
});

describe('published flitch example', () => {
  const entry = (examples.records as unknown as readonly Reference[]).find(
    (found) => found.id === 'WE-flitch-1',
  )!;

  it(`${named(entry)}: transformed section, moment limits, plate shear`, () => {
    const result = flitchSection({
      wood: { plies: 2, thicknessIn: 1.5, depthIn: 9.25, ePsi: 1_800_000 * 0.75, fbPsi: 1500, fvPsi: 180 },
      plate: { plates: 1, thicknessIn: 0.25, depthIn: 9, fyPsi: A36.fyPsi, bendingPsi: 21_600 },
    });
    holds(entry, 'n', result.modularRatio);
    holds(entry, 'Iwood', result.woodInertiaIn4);
    holds(entry, 'Isteel', result.steelInertiaIn4);
    holds(entry, 'Itransformed', result.transformedInertiaIn4);
    holds(entry, 'M_woodLimit', result.momentAtWoodLimitLbIn / 12);
    holds(entry, 'M_steelLimit', result.momentAtSteelLimitLbIn / 12);
    const governing = Math.min(result.momentAtWoodLimitLbIn, result.momentAtSteelLimitLbIn);
    holds(entry, 'w_allow', (8 * governing) / 12 / 20 ** 2);
    // The example multiplies 0.4 Fy by the area and divides by 1.5 for the parabola of a rectangle.
    holds(entry, 'V_plate', result.plateShearParabolicLb);
  });
});
