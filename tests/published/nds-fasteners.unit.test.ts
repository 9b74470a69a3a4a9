import { describe, expect, it } from 'vitest';
import {
  distanceFactor,
  edgeDistanceMultiple,
  endDistanceRule,
  SPACING_IN_ROW_RULE,
} from '../../src/engineering/fasteners/adjustments/geometry-factor.ts';
import {
  diaphragmFactor,
  endGrainFactor,
  toeNailFactor,
} from '../../src/engineering/fasteners/adjustments/service-factors.ts';
import {
  parallelBearingPsi,
  perpendicularBearingPsi,
  smallDowelBearingPsi,
  steelBearingPsi,
  CONCRETE_BEARING_PSI,
} from '../../src/engineering/fasteners/dowels/bearing-strength.ts';
import {
  bendingYieldStrengthPsi,
  bendingYieldTrendPsi,
  BOLT_FYB_PSI,
} from '../../src/engineering/fasteners/dowels/bending-yield.ts';
import { pennyNail, type Fastener } from '../../src/engineering/fasteners/dowels/fastener.ts';
import { referenceLateral } from '../../src/engineering/fasteners/dowels/lateral.ts';
import { nailSize, type PennyStyle } from '../../src/engineering/fasteners/dowels/nail-sizes.ts';
import { penetrationRule } from '../../src/engineering/fasteners/dowels/penetration.ts';
import {
  lagWithdrawalLbPerIn,
  nailWithdrawalLbPerIn,
  referenceWithdrawal,
} from '../../src/engineering/fasteners/dowels/withdrawal.ts';
import { reductionTerms } from '../../src/engineering/fasteners/dowels/reduction-term.ts';
import { singleShear } from '../../src/engineering/fasteners/dowels/yield-modes.ts';
import { EDITIONS } from '../engineering/fasteners/rows.ts';
import reference from './reference/nds-fasteners.json' with { type: 'json' };

interface Value {
  readonly value: number;
}
interface PublishedRecord {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly tolerance: Readonly<Record<string, unknown>>;
  readonly source: { readonly title: string; readonly section?: string };
  readonly provenance: string;
}
const records = reference.records as unknown as readonly PublishedRecord[];
const number = (from: Readonly<Record<string, unknown>>, key: string): number => (from[key] as Value).value;
const family = (prefix: string): readonly PublishedRecord[] =>
  records.filter((record) => record.id.startsWith(prefix));
const name = (record: PublishedRecord): string =>
  `${record.id}: ${record.quantity} (${record.source.section ?? record.source.title}, ${record.provenance})`;
const tolerance = (record: PublishedRecord): number => record.tolerance.abs as number;

/** Ids that a test below has looked at. */
const used = new Set<string>();
function each(prefix: string, check: (record: PublishedRecord) => void): void {
  for (const record of family(prefix)) {
    used.add(record.id);
    it(name(record), () => {
      check(record);
    });
  }
}

const BOLT = (diameterIn: number): Fastener => ({ kind: 'bolt', diameterIn, lengthIn: 12 });

describe('NDS nail sizes, Table L4', () => {
  each('NAIL-', (record) => {
    const size = nailSize(record.inputs.type as PennyStyle, record.inputs.pennyweight as string);
    expect(size?.lengthIn).toBe(number(record.expected, 'length'));
    expect(size?.diameterIn).toBe(number(record.expected, 'diameter'));
  });
});

describe('NDS bending yield strength, Table I1', () => {
  each('FYB-', (record) => {
    if (record.id === 'FYB-formula') {
      const ksi = bendingYieldTrendPsi(number(record.inputs, 'D')) / 1000;
      expect(ksi / number(record.expected, 'Fyb')).toBeCloseTo(1, 2);
      return;
    }
    const expected = number(record.expected, 'Fyb');
    if (record.id === 'FYB-bolt') {
      expect(BOLT_FYB_PSI).toBe(expected);
      expect(bendingYieldStrengthPsi(0.376)).toBe(expected);
      return;
    }
    // 'over .142-.177': just over the lower bound, and the upper bound itself.
    const bounds = [...(record.inputs.diameter_in as string).matchAll(/\.\d+/g)].map((match) =>
      Number(match[0]),
    );
    expect(bounds).toHaveLength(2);
    expect(bendingYieldStrengthPsi(bounds[0]! + 0.0005)).toBe(expected);
    expect(bendingYieldStrengthPsi(bounds[1]!)).toBe(expected);
  });
});

describe('NDS dowel bearing strength, Table 12.3.3', () => {
  each('FE-', (record) => {
    if (record.id === 'FE-steel') {
      expect(steelBearingPsi(0.25)).toBe(number(record.expected, 'A36_hotRolled_1/4in_and_thicker'));
      expect(steelBearingPsi(0.105)).toBe(number(record.expected, 'coldFormed_under_1/4in_A653_gr33'));
      expect(CONCRETE_BEARING_PSI).toBe(number(record.expected, 'concrete_2500psi_min'));
      return;
    }
    const gravity = number(record.inputs, 'G');
    // Held to the tabulated figure itself, tighter than the record's 50 psi.
    expect(smallDowelBearingPsi(gravity)).toBe(number(record.expected, 'Fe_D_under_1/4in'));
    expect(parallelBearingPsi(gravity)).toBe(number(record.expected, 'Fe_parallel'));
    expect(perpendicularBearingPsi(gravity, 0.5)).toBe(number(record.expected, 'Fe_perp_1/2in'));
    expect(perpendicularBearingPsi(gravity, 0.75)).toBe(number(record.expected, 'Fe_perp_3/4in'));
  });
});

describe('NDS yield equations, Table 12.3.1A', () => {
  // The record states the formulas in words; unlike members tell (1 + 2 Re) from (2 + Re).
  each('EQ-yield', (record) => {
    const formula = record.expected.formula as Record<string, string>;
    expect(formula.k2).toContain('(1+2Re)');
    const d = 0.162;
    const lm = 2;
    const ls = 1.5;
    const fem = 3350;
    const fes = 5550;
    const fyb = 90_000;
    const result = singleShear({
      diameterIn: d,
      fybPsi: fyb,
      mainLengthIn: lm,
      sideLengthIn: ls,
      femPsi: fem,
      fesPsi: fes,
      rd: reductionTerms(d, d, 0),
    });
    const re = fem / fes;
    const k2 = -1 + Math.sqrt(2 * (1 + re) + (2 * fyb * (1 + 2 * re) * d * d) / (3 * fem * lm * lm));
    expect(result.modesLb.IIIm).toBeCloseTo((k2 * d * lm * fem) / ((1 + 2 * re) * 2.2), 9);
    // Turning the joint round swaps the roles of the members and leaves Z alone.
    const turned = singleShear({
      diameterIn: d,
      fybPsi: fyb,
      mainLengthIn: ls,
      sideLengthIn: lm,
      femPsi: fes,
      fesPsi: fem,
      rd: reductionTerms(d, d, 0),
    });
    expect(turned.modesLb.IIIs).toBeCloseTo(result.modesLb.IIIm!, 9);
    expect(turned.modesLb.II).toBeCloseTo(result.modesLb.II!, 9);
    expect(turned.zLb).toBeCloseTo(result.zLb, 9);
  });
});

describe('NDS Table 12N, nails wood to wood', () => {
  each('Z12N-', (record) => {
    const diameterIn = number(record.inputs, 'diameter');
    const specificGravity = number(record.inputs, 'G');
    const side = {
      material: 'wood',
      thicknessIn: number(record.inputs, 'ts'),
      specificGravity,
      angleDeg: 0,
    } as const;
    const result = referenceLateral(
      {
        fastener: { kind: 'nail', style: 'common', diameterIn, lengthIn: side.thicknessIn + 11 * diameterIn },
        method: 'face',
        side,
        main: { ...side, thicknessIn: 5.5 },
        aheadIn: 0,
        path: record.id,
      },
      EDITIONS,
    );
    // To the published rounding: whole pounds.
    expect(Math.round(result.zLb)).toBe(number(record.expected, 'Z'));
  });
});

describe('NDS Table 12A, bolts wood to wood', () => {
  each('Z12A-', (record) => {
    const specificGravity = number(record.inputs, 'G');
    const fastener = BOLT(number(record.inputs, 'D'));
    const z = (sideDeg: number, mainDeg: number): number =>
      referenceLateral(
        {
          fastener,
          method: 'face',
          side: {
            material: 'wood',
            thicknessIn: number(record.inputs, 'ts'),
            specificGravity,
            angleDeg: sideDeg,
          },
          main: {
            material: 'wood',
            thicknessIn: number(record.inputs, 'tm'),
            specificGravity,
            angleDeg: mainDeg,
          },
          aheadIn: 0,
          path: record.id,
        },
        EDITIONS,
      ).zLb;
    const found = { Z_parallel: z(0, 0), Z_sidePerp: z(90, 0), Z_mainPerp: z(0, 90), Z_perp: z(90, 90) };
    for (const [key, value] of Object.entries(found)) {
      // Tables print to 10 lb; the records carry the unrounded figure, so hold to half a pound.
      expect(Math.abs(value - number(record.expected, key)), key).toBeLessThanOrEqual(0.51);
    }
  });
  it('1/2 in, main 3-1/2, G 0.50 prints as 610/370/430/330 (NDS Table 12A, from memory)', () => {
    const member = (thicknessIn: number, angleDeg: number) =>
      ({ material: 'wood', thicknessIn, specificGravity: 0.5, angleDeg }) as const;
    const printed = (sideDeg: number, mainDeg: number): number =>
      Math.round(
        referenceLateral(
          {
            fastener: BOLT(0.5),
            method: 'face',
            side: member(1.5, sideDeg),
            main: member(3.5, mainDeg),
            aheadIn: 0,
            path: 'bolt',
          },
          EDITIONS,
        ).zLb / 10,
      ) * 10;
    expect([printed(0, 0), printed(90, 0), printed(0, 90), printed(90, 90)]).toEqual([610, 370, 430, 330]);
  });
});

describe('NDS withdrawal, Tables 12.2A and 12.2C', () => {
  each('W-nail-', (record) => {
    const value = nailWithdrawalLbPerIn(number(record.inputs, 'G'), number(record.inputs, 'D'));
    expect(Math.abs(value - number(record.expected, 'W'))).toBeLessThanOrEqual(0.051);
  });
  each('W-lag-', (record) => {
    const value = lagWithdrawalLbPerIn(number(record.inputs, 'G'), number(record.inputs, 'D'));
    expect(Math.round(value)).toBe(number(record.expected, 'W'));
  });
});

describe('NDS factors of connections', () => {
  const nail = pennyNail('common', '16d');
  const lag: Fastener = { kind: 'lag screw', diameterIn: 0.5, lengthIn: 4 };
  const side = { material: 'wood', thicknessIn: 1.5, specificGravity: 0.5, angleDeg: 0 } as const;
  const found: Readonly<Record<string, () => number>> = {
    'FACT-1': () => toeNailFactor('toe', 'lateral'),
    'FACT-2': () => toeNailFactor('toe', 'withdrawal'),
    'FACT-3': () => endGrainFactor('end', 'lateral'),
    'FACT-4': () => endGrainFactor('end', 'withdrawal'),
    'FACT-5': () => diaphragmFactor(nail, true),
    'FACT-6': () => penetrationRule(nail)!.least,
    'FACT-7': () => penetrationRule(nail)!.full,
    'FACT-8': () => penetrationRule(lag)!.least,
  };
  each('FACT-', (record) => {
    expect(found[record.id], record.id).toBeDefined();
    expect(found[record.id]!()).toBe(number(record.expected, 'value'));
  });
  it('FACT-4 note: nails in end grain hold nothing, lag screws do', () => {
    const hold = (fastener: Fastener): number =>
      referenceWithdrawal(
        { fastener, method: 'end', side, main: { ...side, thicknessIn: 12 }, aheadIn: 0, path: 'end' },
        EDITIONS,
      ).totalLb;
    expect(hold(nail)).toBe(0);
    expect(hold(lag)).toBeGreaterThan(0);
  });
});

describe('NDS 12.5.1, bolt distances', () => {
  const found: Readonly<Record<string, () => number>> = {
    'BOLTGEO-1': () => endDistanceRule('tension').full,
    'BOLTGEO-2': () => endDistanceRule('compression').full,
    'BOLTGEO-4': () => SPACING_IN_ROW_RULE.full,
    'BOLTGEO-6': () => edgeDistanceMultiple('tension', true, 6, 3, 0.5),
    'BOLTGEO-7': () => edgeDistanceMultiple('across grain', true, 3, 3, 0.5),
  };
  each('BOLTGEO-', (record) => {
    expect(found[record.id], record.id).toBeDefined();
    expect(found[record.id]!()).toBe(number(record.expected, 'multiplesOfD'));
  });
  it('below the least distance the fastener does not count', () => {
    expect(distanceFactor(3.49 * 0.5, endDistanceRule('tension'), 0.5)).toBe(0);
    expect(distanceFactor(3.5 * 0.5, endDistanceRule('tension'), 0.5)).toBe(0.5);
  });
});

it('every record of nds-fasteners.json has been looked at', () => {
  expect(records.map((record) => record.id).filter((id) => !used.has(id))).toEqual([]);
  expect(used.size).toBe(records.length);
  for (const record of records) {
    if (record.id.startsWith('Z12') || record.id.startsWith('W-'))
      expect(tolerance(record)).toBeGreaterThan(0);
  }
});
