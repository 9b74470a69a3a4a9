import { notNegative, qty, refuseUnless, type Step } from '../../trace/index.ts';
import { mechanicsClause } from '../clauses.ts';
import { pennyNail, pneumaticNail, type Fastener } from '../dowels/fastener.ts';
import type { FasteningRow } from '../schedule/row.ts';
import type { BeamFastening, FasteningContext } from './context.ts';
import { firstThatPasses, makeRow, woodMember } from './row-maker.ts';

export interface InterfaceLoad {
  /** Between ply `index` and the next, counted from the front, 1-based. */
  readonly index: number;
  readonly plf: number;
  readonly step: Step;
}

/**
 * Load that must cross each interface of a multi-ply beam, plf. Plies of equal stiffness bend together, so
 * each carries 1/n of what hangs on the faces; the first j plies receive the front load and keep j/n of all:
 * |w_front (n−j)/n − w_rear j/n| crosses. The live part of either side may be absent, so the larger of both
 * one-sided cases counts; load on top reaches all plies at once and crosses nothing.
 * @throws Refusal for fewer than one ply, or a load below zero or its own dead part
 */
export function interfaceLoads(
  beam: Pick<BeamFastening, 'plies' | 'front' | 'rear'>,
): readonly InterfaceLoad[] {
  const { plies, front, rear } = beam;
  refuseUnless(Number.isInteger(plies) && plies >= 1, 'beam.plies', 'A beam has a whole number of plies.');
  for (const [name, face] of [
    ['front', front],
    ['rear', rear],
  ] as const) {
    notNegative(face.totalPlf, `beam.${name}.totalPlf`);
    notNegative(face.deadPlf, `beam.${name}.deadPlf`);
    refuseUnless(
      face.deadPlf <= face.totalPlf,
      `beam.${name}.deadPlf`,
      'The dead part of a load cannot be more than the whole.',
    );
  }
  const loads: InterfaceLoad[] = [];
  for (let index = 1; index < plies; index += 1) {
    const share = index / plies;
    const fromFront = front.totalPlf * (1 - share) - rear.deadPlf * share;
    const fromRear = rear.totalPlf * share - front.deadPlf * (1 - share);
    const plf = Math.max(0, fromFront, fromRear);
    const governsFront = fromFront >= fromRear;
    loads.push({
      index,
      plf,
      step: {
        id: `interface.${index}`,
        title: `Load across interface ${index} of ${plies - 1}, from the ${governsFront ? 'front' : 'rear'}`,
        clause: mechanicsClause('plies of equal stiffness share the load equally'),
        formula: governsFront ? 'q = wf · (n − j) / n − wrD · j / n' : 'q = wr · j / n − wfD · (n − j) / n',
        values: {
          wf: qty(front.totalPlf, 'plf'),
          wr: qty(rear.totalPlf, 'plf'),
          wfD: qty(front.deadPlf, 'plf'),
          wrD: qty(rear.deadPlf, 'plf'),
          n: qty(plies, 'each'),
          j: qty(index, 'each'),
        },
        result: qty(plf, 'plf'),
      },
    });
  }
  return loads;
}

/** Nails that join two plies, those that do not come out behind first. */
function nailsFor(thicknessIn: number): readonly Fastener[] {
  const nails = [
    pneumaticNail(0.131, 3),
    pneumaticNail(0.131, 3.25),
    pennyNail('common', '10d'),
    pennyNail('common', '16d'),
  ];
  const flush = nails.filter((nail) => nail.lengthIn <= 2 * thicknessIn + 0.01);
  return flush.length > 0 ? flush : nails;
}

const NAIL_PATTERNS = [
  { rows: 2, spacingIn: 12 },
  { rows: 3, spacingIn: 12 },
  { rows: 3, spacingIn: 8 },
  { rows: 4, spacingIn: 8 },
  { rows: 4, spacingIn: 6 },
] as const;
const BOLT_SPACINGS_IN = [24, 16, 12, 8] as const;
const NAIL_EDGE_IN = 2;
const BOLT_DIAMETER_IN = 0.5;
/** Nails from the faces reach one interface each; more plies take nailing as they are laid up, or bolts. */
const MOST_PLIES_NAILED = 4;

function nailedRows(context: FasteningContext, beam: BeamFastening, demandPlf: number): FasteningRow[] {
  const { ply, plies } = beam;
  const rows: FasteningRow[] = [];
  for (const { rows: count, spacingIn } of NAIL_PATTERNS) {
    for (const fastener of nailsFor(ply.thicknessIn)) {
      const edgeDistanceIn = Math.min(NAIL_EDGE_IN, ply.widthIn / 4);
      rows.push(
        makeRow(context, {
          id: 'beam-plies',
          joint: 'beam plies',
          where: 'Beam, full length, each ply to the next',
          members: plyMembers(beam),
          layup: 'each to the next',
          fastener,
          driven: plies === 3 ? 'both sides' : 'one side',
          pattern: {
            kind: 'spaced',
            lengthIn: beam.lengthIn,
            rows: count,
            spacingIn,
            rowSpacingIn: (ply.widthIn - 2 * edgeDistanceIn) / (count - 1),
            staggered: true,
          },
          edgeDistanceIn,
          endDistanceIn: 3,
          endLoading: 'across grain',
          loadRuns: 'across rows',
          ...demandOf(beam, demandPlf),
          prescriptiveItem: 'built-up beam, along',
          note: notesOf(beam),
        }),
      );
    }
  }
  return rows;
}

function boltedRows(context: FasteningContext, beam: BeamFastening, demandPlf: number): FasteningRow[] {
  const { ply, plies } = beam;
  const edgeDistanceIn = 4 * BOLT_DIAMETER_IN;
  return BOLT_SPACINGS_IN.map((spacingIn) =>
    makeRow(context, {
      id: 'beam-plies',
      joint: 'beam plies',
      where: 'Beam, full length, through all plies',
      members: plyMembers(beam),
      layup: 'through',
      fastener: {
        kind: 'bolt',
        diameterIn: BOLT_DIAMETER_IN,
        lengthIn: Math.ceil(plies * ply.thicknessIn + 1),
      },
      pattern: {
        kind: 'spaced',
        lengthIn: beam.lengthIn,
        rows: 2,
        spacingIn,
        rowSpacingIn: ply.widthIn - 2 * edgeDistanceIn,
        staggered: false,
      },
      edgeDistanceIn,
      endDistanceIn: 4 * BOLT_DIAMETER_IN,
      endLoading: 'across grain',
      loadRuns: 'across rows',
      prebored: true,
      ...demandOf(beam, demandPlf),
      note: 'Washers under heads and nuts.',
    }),
  );
}

/** Plies of this thickness are sawn; others are composite and come with a fastening table of their own. */
const SAWN_PLY_IN = 1.5;

function notesOf(beam: BeamFastening): string {
  const notes: string[] = [];
  if (beam.plies > 3) {
    notes.push('Nail each ply as it is laid on: the middle interface cannot be reached afterwards.');
  }
  if (beam.ply.thicknessIn !== SAWN_PLY_IN) {
    notes.push('Composite plies: the maker’s own fastening table is a least requirement as well.');
  }
  return notes.join(' ');
}

function plyMembers(beam: BeamFastening): FasteningRow['members'] {
  return Array.from({ length: beam.plies }, (_, index) =>
    // Load crosses from ply to ply downwards, across the grain of both.
    woodMember(beam.ply, { name: `ply ${index + 1}`, angleDeg: 90 }),
  );
}

function demandOf(beam: BeamFastening, demandPlf: number): Pick<FasteningRow, 'demand' | 'basis'> {
  if (demandPlf <= 0) {
    return {
      demand: {
        per: 'none',
        durationFactor: beam.durationFactor,
        combination: beam.combination,
        source: 'Loaded on top: every ply takes its share at once and nothing crosses between them.',
      },
      basis: { kind: 'prescriptive' },
    };
  }
  return {
    demand: {
      per: 'foot',
      lateralPlf: demandPlf,
      withdrawalPlf: 0,
      durationFactor: beam.durationFactor,
      combination: beam.combination,
      source: `Largest load across an interface: ${beam.front.totalPlf.toFixed(0)} plf on the front face, ${beam.rear.totalPlf.toFixed(0)} plf on the rear, ${beam.plies} plies share alike.`,
    },
    basis: { kind: 'yield limit', shear: 'single' },
  };
}

/** Ply-to-ply fastening: nails where they do, else bolts. A single-ply beam has none. */
export function proposeBeamPlies(context: FasteningContext): readonly FasteningRow[] {
  const { beam } = context;
  if (beam === undefined || beam.plies < 2) return [];
  const demandPlf = Math.max(...interfaceLoads(beam).map((load) => load.plf));
  const nailed = beam.plies <= MOST_PLIES_NAILED ? nailedRows(context, beam, demandPlf) : [];
  const bolted = demandPlf > 0 || nailed.length === 0 ? boltedRows(context, beam, demandPlf) : [];
  return [firstThatPasses([...nailed, ...bolted], context.editions)];
}
