import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import {
  analyseBeam,
  valueAt,
  type BeamLoad,
  type BeamSupport,
} from '../../src/engineering/statics/index.ts';

/**
 * A dozen beams against sympy's beam module, which works in exact fractions with singularity functions. Needs
 * Debian's python3-sympy; without it the test is skipped and says so.
 */
const PYTHON = '/usr/bin/python3';
const available = spawnSync(PYTHON, ['-c', 'import sympy']).status === 0;

interface GivenBeam {
  readonly name: string;
  readonly lengthIn: number;
  readonly ei: number;
  readonly supports: readonly BeamSupport[];
  readonly loads: readonly BeamLoad[];
  /** Between supports and loads, where sympy's singularity functions leave no doubt about the side. */
  readonly places: readonly number[];
}

interface SolvedBeam {
  readonly reactions: readonly { readonly forceLb: number; readonly momentLbIn: number }[];
  readonly places: readonly Readonly<Record<(typeof QUANTITIES)[number], number>>[];
}

const QUANTITIES = ['shearLb', 'momentLbIn', 'slopeRad', 'deflectionIn'] as const;

const pin = (atIn: number): BeamSupport => ({ atIn, kind: 'pin' });
const fixed = (atIn: number): BeamSupport => ({ atIn, kind: 'fixed' });
const everywhere = (loadLbPerIn: number): BeamLoad => ({ kind: 'uniform', loadLbPerIn });
const point = (atIn: number, loadLb: number): BeamLoad => ({ kind: 'point', atIn, loadLb });
const couple = (atIn: number, coupleLbIn: number): BeamLoad => ({ kind: 'couple', atIn, coupleLbIn });
const stretch = (fromIn: number, toIn: number, startLbPerIn: number, endLbPerIn: number): BeamLoad => ({
  kind: 'trapezoidal',
  fromIn,
  toIn,
  startLbPerIn,
  endLbPerIn,
});

const EI = 316_576_000;
const beams: readonly GivenBeam[] = [
  {
    name: 'simple span, uniform and two posts',
    lengthIn: 150,
    ei: EI,
    supports: [pin(0), pin(150)],
    loads: [everywhere(52.5), point(40, 2400), point(110, 1800)],
    places: [20, 75, 130],
  },
  {
    name: 'simple span, load over a part',
    lengthIn: 168,
    ei: EI,
    supports: [pin(0), pin(168)],
    loads: [{ kind: 'partial', fromIn: 24, toIn: 96, loadLbPerIn: 50 }],
    places: [10, 60, 120],
  },
  {
    name: 'simple span, trapezoid',
    lengthIn: 144,
    ei: EI,
    supports: [pin(0), pin(144)],
    loads: [stretch(12, 132, 10, 60)],
    places: [6, 72, 138],
  },
  {
    name: 'simple span, falling triangle and a couple',
    lengthIn: 144,
    ei: EI,
    supports: [pin(0), pin(144)],
    loads: [stretch(0, 96, 48, 0), couple(60, -9000)],
    places: [30, 80, 120],
  },
  {
    name: 'overhang on the right',
    lengthIn: 192,
    ei: EI,
    supports: [pin(0), pin(144)],
    loads: [everywhere(33), point(192, 700)],
    places: [50, 100, 170],
  },
  {
    name: 'overhangs on both sides',
    lengthIn: 240,
    ei: EI,
    supports: [pin(36), pin(200)],
    loads: [everywhere(20), point(0, 500), stretch(60, 180, 0, 30)],
    places: [18, 100, 220],
  },
  {
    name: 'cantilever to the right',
    lengthIn: 60,
    ei: EI,
    supports: [fixed(0)],
    loads: [everywhere(25), couple(30, 1200), point(60, 900)],
    places: [15, 45],
  },
  {
    name: 'fixed at both ends',
    lengthIn: 144,
    ei: EI,
    supports: [fixed(0), fixed(144)],
    loads: [stretch(30, 120, 5, 45), point(50, 1000)],
    places: [20, 80, 130],
  },
  {
    name: 'fixed and propped',
    lengthIn: 144,
    ei: EI,
    supports: [fixed(0), pin(144)],
    loads: [everywhere(40), couple(100, 5000)],
    places: [40, 90, 120],
  },
  {
    name: 'two unequal spans',
    lengthIn: 264,
    ei: EI,
    supports: [pin(0), pin(108), pin(264)],
    loads: [everywhere(30), point(180, 2200)],
    places: [50, 130, 220],
  },
  {
    name: 'three spans, one loaded',
    lengthIn: 360,
    ei: EI,
    supports: [pin(0), pin(120), pin(240), pin(360)],
    loads: [{ kind: 'partial', fromIn: 120, toIn: 240, loadLbPerIn: 45 }],
    places: [60, 180, 300],
  },
  {
    name: 'four supports, overhang, mixed loads',
    lengthIn: 400,
    ei: EI,
    supports: [pin(20), pin(150), pin(270), fixed(400)],
    loads: [everywhere(12), stretch(60, 200, 30, 5), point(330, 3000), couple(220, 4000)],
    places: [10, 100, 180, 250, 300, 380],
  },
];

describe('beams against sympy', () => {
  it.skipIf(!available)(
    `agrees on ${beams.length} beams to 1e-12${available ? '' : ' (SKIPPED: apt-get install python3-sympy)'}`,
    () => {
      const script = new URL('sympy-beams.py', import.meta.url).pathname;
      const run = spawnSync(PYTHON, [script], { input: JSON.stringify(beams), encoding: 'utf8' });
      expect(run.stderr).toBe('');
      const solved = JSON.parse(run.stdout) as readonly SolvedBeam[];
      expect(solved).toHaveLength(beams.length);
      beams.forEach((beam, index) => {
        const analysis = analyseBeam(beam, beam.loads);
        const theirs = solved[index]!;
        for (const field of QUANTITIES) {
          const scale = Math.max(...theirs.places.map((place) => Math.abs(place[field])));
          beam.places.forEach((atIn, place) => {
            const off = valueAt(analysis, atIn)[field] - theirs.places[place]![field];
            expect(Math.abs(off) / scale, `${beam.name}, ${field} at ${atIn} in`).toBeLessThan(1e-12);
          });
        }
        const force = Math.max(...theirs.reactions.map(({ forceLb }) => Math.abs(forceLb)));
        theirs.reactions.forEach(({ forceLb, momentLbIn }, support) => {
          const own = analysis.reactions[support]!;
          expect(Math.abs(own.forceLb - forceLb) / force, `${beam.name}, reaction`).toBeLessThan(1e-12);
          const off = Math.abs(own.momentLbIn - momentLbIn);
          expect(off, `${beam.name}, fixing moment`).toBeLessThanOrEqual(1e-12 * Math.abs(momentLbIn));
        });
      });
    },
    120_000,
  );
});
