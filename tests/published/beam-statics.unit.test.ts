import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  extremesOf,
  valueAt,
  type BeamAnalysis,
  type BeamLoad,
  type BeamSupport,
} from '../../src/engineering/statics/index.ts';
import reference from './reference/beam-statics.json' with { type: 'json' };

interface Value {
  readonly value: number;
  readonly unit: string;
}

interface BeamRecord {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: {
    readonly totalLength: Value;
    readonly supportsAt: { readonly value: readonly number[] };
    readonly clampedAt?: { readonly value: readonly number[] };
    readonly E: Value;
    readonly I: Value;
    readonly uniform?: readonly { readonly w: number; readonly from_ft: number; readonly to_ft: number }[];
    readonly linear?: readonly {
      readonly wStart: number;
      readonly wEnd: number;
      readonly from_ft: number;
      readonly to_ft: number;
    }[];
    readonly points?: readonly { readonly P: number; readonly at_ft: number }[];
  };
  readonly expected: Readonly<Record<string, Value>>;
  readonly tolerance: { readonly rel: number };
  readonly source: { readonly title: string; readonly section: string };
  readonly provenance: string;
}

const records = reference.records as unknown as readonly BeamRecord[];

/** The note of every record: positions of the largest deflection are given to ±0.1 ft. */
const PLACE_TOLERANCE_FT = 0.1;

function solve({ inputs }: BeamRecord): BeamAnalysis {
  const supports: BeamSupport[] = [
    ...inputs.supportsAt.value.map((at): BeamSupport => ({ atIn: at * 12, kind: 'pin' })),
    ...(inputs.clampedAt?.value ?? []).map((at): BeamSupport => ({ atIn: at * 12, kind: 'fixed' })),
  ];
  const loads: BeamLoad[] = [
    ...(inputs.uniform ?? []).map((load): BeamLoad => ({
      kind: 'partial',
      fromIn: load.from_ft * 12,
      toIn: load.to_ft * 12,
      loadLbPerIn: load.w / 12,
    })),
    ...(inputs.linear ?? []).map((load): BeamLoad => ({
      kind: 'trapezoidal',
      fromIn: load.from_ft * 12,
      toIn: load.to_ft * 12,
      startLbPerIn: load.wStart / 12,
      endLbPerIn: load.wEnd / 12,
    })),
    ...(inputs.points ?? []).map((load): BeamLoad => ({
      kind: 'point',
      atIn: load.at_ft * 12,
      loadLb: load.P,
    })),
  ];
  const ei = inputs.E.value * inputs.I.value;
  return analyseBeam({ lengthIn: inputs.totalLength.value * 12, supports, ei }, loads);
}

/** The engine's value of an expected quantity, in the unit of the record. */
function valueOf(analysis: BeamAnalysis, key: string): number {
  const { shearLb, momentLbIn, deflectionIn } = extremesOf(analysis);
  const atSupport = /^(R|fixedEndMoment)@([\d.]+)ft$/.exec(key);
  if (atSupport !== null) {
    const reaction = analysis.reactions.find(({ atIn }) => atIn === Number(atSupport[2]) * 12)!;
    return atSupport[1] === 'R' ? reaction.forceLb : Math.abs(reaction.momentLbIn) / 12;
  }
  switch (key) {
    case 'Vmax':
      return Math.max(shearLb.max.value, -shearLb.min.value);
    case 'Mmax_positive':
      return momentLbIn.max.value / 12;
    case 'Mmax_negative':
      return momentLbIn.min.value / 12;
    case 'deflectionMax_down':
      return deflectionIn.max.value;
    case 'deflectionMax_up':
      return -deflectionIn.min.value;
    default:
      throw new Error(`no quantity for ${key}`);
  }
}

describe('beam formulas', () => {
  it('finds all records of the topic', () => {
    expect(records.map(({ id }) => id)).toEqual(
      Array.from({ length: 18 }, (_, i) => `BS-${String(i + 1).padStart(2, '0')}`),
    );
  });

  for (const record of records) {
    const { id, quantity, source, provenance, expected, tolerance } = record;
    it(`${id} ${quantity} — ${source.title}, ${source.section} (${provenance})`, () => {
      const analysis = solve(record);
      const largest = Math.max(...Object.values(expected).map(({ value }) => Math.abs(value)));
      for (const [key, { value }] of Object.entries(expected)) {
        if (key === 'deflectionMax_at') continue;
        // Zeros of the record are zeros of rounding: held against the largest number of the record.
        const margin = value === 0 ? 1e-9 * largest : tolerance.rel * Math.abs(value);
        expect(Math.abs(valueOf(analysis, key) - value), `${id} ${key}`).toBeLessThanOrEqual(margin);
      }
      const { deflectionIn } = extremesOf(analysis);
      const placeFt = expected.deflectionMax_at!.value;
      // Symmetric beams deflect alike in two places; the record names one, the engine the leftmost.
      const lengthFt = record.inputs.totalLength.value;
      const mirrored = valueAt(analysis, (lengthFt - placeFt) * 12).deflectionIn;
      const symmetric =
        Math.abs(mirrored - valueAt(analysis, placeFt * 12).deflectionIn) < 1e-9 * Math.abs(mirrored);
      const foundFt = deflectionIn.max.atIn / 12;
      const off = Math.abs(foundFt - placeFt);
      const offMirrored = symmetric ? Math.abs(lengthFt - foundFt - placeFt) : Infinity;
      expect(Math.min(off, offMirrored), `${id} place`).toBeLessThanOrEqual(PLACE_TOLERANCE_FT);
    });
  }
});
