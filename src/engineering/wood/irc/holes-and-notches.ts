import type { Clause, Editions } from '../../trace/clause.ts';
import { qty } from '../../trace/quantity.ts';
import { notNegative, positive } from '../../trace/refusal.ts';
import { type Check, makeCheck } from '../../trace/step.ts';

/** A hole or notch found in, or wanted through, a stud. */
export interface StudCut {
  readonly kind: 'bored hole' | 'notch';
  /** Wide face of the stud. */
  readonly studDepthIn: number;
  /** Diameter, or depth of the notch. */
  readonly sizeIn: number;
  readonly bearingWall: boolean;
  /** The stud is doubled. */
  readonly doubled: boolean;
  /** From the hole to the nearer edge of the stud; holes only. */
  readonly edgeIn?: number;
  /** Doubled studs bored one after another, this one counted. */
  readonly successiveDoubled?: number;
}

/** Shares of the stud's depth, and distances, of IRC R602.6 (bored holes seen, notches from memory). */
const NOTCH_BEARING = 0.25;
const NOTCH_OTHER = 0.4;
const BORE_BEARING = 0.4;
const BORE_OTHER = 0.6;
const EDGE_IN = 0.625;
const SUCCESSIVE_DOUBLED = 2;

function irc(edition: Editions['irc'], section: string, provenance: Clause['provenance']): Clause {
  return { standard: 'IRC', edition, section, ...(provenance === undefined ? {} : { provenance }) };
}

/** The largest cut of a kind, as a share of the stud's depth. */
export function largestStudCut(cut: Pick<StudCut, 'kind' | 'bearingWall' | 'doubled'>): number {
  if (cut.kind === 'notch') return cut.bearingWall ? NOTCH_BEARING : NOTCH_OTHER;
  return cut.bearingWall && !cut.doubled ? BORE_BEARING : BORE_OTHER;
}

/**
 * Holes and notches in studs, IRC R602.6.
 * @throws Refusal for a cut or stud without size.
 */
export function checkStudCut(id: string, cut: StudCut, edition: Editions['irc']): Check[] {
  positive(cut.studDepthIn, `${id}.studDepthIn`);
  positive(cut.sizeIn, `${id}.sizeIn`);
  const clause = irc(edition, 'R602.6', cut.kind === 'notch' ? 'from memory' : 'seen');
  const checks = [
    makeCheck({
      id: `${id}.size`,
      title: cut.kind === 'notch' ? 'Depth of the notch' : 'Diameter of the hole',
      clause,
      demand: qty(cut.sizeIn, 'in'),
      capacity: qty(largestStudCut(cut) * cut.studDepthIn, 'in'),
    }),
  ];
  if (cut.kind === 'bored hole') {
    const edgeIn = notNegative(cut.edgeIn ?? 0, `${id}.edgeIn`);
    checks.push(
      makeCheck({
        id: `${id}.edge`,
        title: 'Wood left at the edge',
        clause,
        demand: qty(EDGE_IN, 'in'),
        capacity: qty(edgeIn, 'in'),
      }),
    );
    if (cut.bearingWall && cut.doubled) {
      checks.push(
        makeCheck({
          id: `${id}.successive`,
          title: 'Doubled studs bored in a row',
          clause,
          demand: qty(cut.successiveDoubled ?? 1, 'each'),
          capacity: qty(SUCCESSIVE_DOUBLED, 'each'),
        }),
      );
    }
  }
  return checks;
}

/** A hole or notch in a joist, rafter or sawn beam. */
export interface JoistCut {
  readonly kind: 'hole' | 'notch';
  readonly joistDepthIn: number;
  /** Diameter, or depth of the notch. */
  readonly sizeIn: number;
  readonly place: 'end' | 'outer third' | 'middle third';
  /** Notch: length along the joist. */
  readonly lengthIn?: number;
  /** Notch: the edge that is stretched. */
  readonly tensionEdge?: boolean;
  readonly nominalThicknessIn: number;
  /** Hole: to the nearer edge, and to the next hole or notch. */
  readonly edgeIn?: number;
  readonly nextIn?: number;
}

const HOLE_CLEAR_IN = 2;
const THICK_NOMINAL_IN = 4;

/**
 * Cutting of sawn joists and beams, IRC R502.8.1 (from memory): notches to a sixth of the depth, a third of
 * it long, none in the middle third; a quarter at the ends; pieces 4 in thick or more are notched on the
 * stretched edge at the ends only; holes to a third of the depth, 2 in clear of edges and other cuts.
 * @throws Refusal for a cut or joist without size.
 */
export function checkJoistCut(id: string, cut: JoistCut, edition: Editions['irc']): Check[] {
  positive(cut.joistDepthIn, `${id}.joistDepthIn`);
  positive(cut.sizeIn, `${id}.sizeIn`);
  positive(cut.nominalThicknessIn, `${id}.nominalThicknessIn`);
  const clause = irc(edition, 'R502.8.1', 'from memory');
  return cut.kind === 'hole' ? holeChecks(id, cut, clause) : notchChecks(id, cut, clause);
}

function holeChecks(id: string, cut: JoistCut, clause: Clause): Check[] {
  const clear = (key: string, title: string, valueIn: number): Check =>
    makeCheck({
      id: `${id}.${key}`,
      title,
      clause,
      demand: qty(HOLE_CLEAR_IN, 'in'),
      capacity: qty(valueIn, 'in'),
    });
  return [
    makeCheck({
      id: `${id}.size`,
      title: 'Diameter of the hole',
      clause,
      demand: qty(cut.sizeIn, 'in'),
      capacity: qty(cut.joistDepthIn / 3, 'in'),
    }),
    clear('edge', 'Wood left at the edge', notNegative(cut.edgeIn ?? 0, `${id}.edgeIn`)),
    ...(cut.nextIn === undefined
      ? []
      : [clear('next', 'To the next hole or notch', notNegative(cut.nextIn, `${id}.nextIn`))]),
  ];
}

/** Deepest notch allowed at a place, in; zero where none is. */
export function deepestJoistNotchIn(cut: JoistCut): number {
  if (cut.place === 'end') return cut.joistDepthIn / 4;
  if (cut.place === 'middle third') return 0;
  if (cut.tensionEdge === true && cut.nominalThicknessIn >= THICK_NOMINAL_IN) return 0;
  return cut.joistDepthIn / 6;
}

function notchChecks(id: string, cut: JoistCut, clause: Clause): Check[] {
  const deepest = deepestJoistNotchIn(cut);
  const checks = [
    makeCheck({
      id: `${id}.size`,
      title: 'Depth of the notch',
      clause,
      demand: qty(cut.sizeIn, 'in'),
      capacity: qty(deepest, 'in'),
      ...(deepest === 0
        ? { sentence: () => 'No notch is allowed here: repair the joist by the engineer’s detail.' }
        : {}),
    }),
  ];
  if (cut.place === 'outer third') {
    checks.push(
      makeCheck({
        id: `${id}.length`,
        title: 'Length of the notch',
        clause,
        demand: qty(notNegative(cut.lengthIn ?? 0, `${id}.lengthIn`), 'in'),
        capacity: qty(cut.joistDepthIn / 3, 'in'),
      }),
    );
  }
  return checks;
}
