import { LuDecomposition, Matrix, SingularValueDecomposition } from 'ml-matrix';
import type { BeamLoad, BeamModel, Section } from '../../src/engineering/statics/index.ts';

/**
 * A beam solved by the direct stiffness method with a general-purpose linear-algebra package (ml-matrix): an
 * independent way to the same numbers. Two-node beam elements; a node at every support, hinge, load
 * discontinuity and place to be read; fixed-end forces of straight-line loads are exact, so the nodal values
 * are too. Works in lengths of the beam and EI = 1. Shares nothing with the engine but its sign rules.
 */
export interface ReferencePlace {
  readonly atIn: number;
  readonly left: Section;
  readonly right: Section;
}

export interface ReferenceSolution {
  readonly places: readonly ReferencePlace[];
  /** Up and clockwise positive, in the order of the supports. */
  readonly reactions: readonly { readonly forceLb: number; readonly momentLbIn: number }[];
}

interface Mesh {
  readonly at: readonly number[];
  /** Degrees of freedom of each node: drop, turn on its left, turn on its right (the same but at a hinge). */
  readonly drop: readonly number[];
  readonly turnLeft: readonly number[];
  readonly turnRight: readonly number[];
  readonly count: number;
}

const CLOSE = 1e-8;

function meshOf(model: BeamModel, loads: readonly BeamLoad[], extra: readonly number[]): Mesh {
  const wanted = [0, model.lengthIn, ...model.supports.map((s) => s.atIn), ...(model.hinges ?? []), ...extra];
  for (const load of loads) {
    if ('atIn' in load) wanted.push(load.atIn);
    if ('fromIn' in load) wanted.push(load.fromIn, load.toIn);
  }
  const sorted = wanted.map((x) => x / model.lengthIn).sort((a, b) => a - b);
  const at = sorted.filter((x, i) => i === 0 || x - sorted[i - 1]! > CLOSE);
  const hinged = (x: number): boolean =>
    (model.hinges ?? []).some((h) => Math.abs(h / model.lengthIn - x) <= CLOSE);
  let count = 0;
  const drop: number[] = [];
  const turnLeft: number[] = [];
  const turnRight: number[] = [];
  for (const x of at) {
    drop.push(count++);
    turnLeft.push(count++);
    turnRight.push(hinged(x) ? count++ : turnLeft.at(-1)!);
  }
  return { at, drop, turnLeft, turnRight, count };
}

function elementStiffness(h: number): Matrix {
  return new Matrix([
    [12, 6 * h, -12, 6 * h],
    [6 * h, 4 * h * h, -6 * h, 2 * h * h],
    [-12, -6 * h, 12, -6 * h],
    [6 * h, 2 * h * h, -6 * h, 4 * h * h],
  ]).mul(1 / (h * h * h));
}

/** Nodal forces that do what a load from q1 to q2 does (drop, turn, drop, turn). */
function elementLoad(q1: number, q2: number, h: number): number[] {
  return [
    (h * (7 * q1 + 3 * q2)) / 20,
    (h * h * (3 * q1 + 2 * q2)) / 60,
    (h * (3 * q1 + 7 * q2)) / 20,
    (-h * h * (2 * q1 + 3 * q2)) / 60,
  ];
}

function dofsOf(mesh: Mesh, element: number): number[] {
  return [
    mesh.drop[element]!,
    mesh.turnRight[element]!,
    mesh.drop[element + 1]!,
    mesh.turnLeft[element + 1]!,
  ];
}

function stiffnessOf(mesh: Mesh): Matrix {
  const stiffness = Matrix.zeros(mesh.count, mesh.count);
  for (let e = 0; e < mesh.at.length - 1; e++) {
    const own = elementStiffness(mesh.at[e + 1]! - mesh.at[e]!);
    const dofs = dofsOf(mesh, e);
    dofs.forEach((row, i) => {
      dofs.forEach((column, j) => {
        stiffness.set(row, column, stiffness.get(row, column) + own.get(i, j));
      });
    });
  }
  return stiffness;
}

function nodeAt(mesh: Mesh, model: BeamModel, atIn: number): number {
  return mesh.at.findIndex((x) => Math.abs(x - atIn / model.lengthIn) <= CLOSE);
}

/** Intensity of the distributed loads just inside the two ends of an element, lb/in. */
function intensities(mesh: Mesh, model: BeamModel, loads: readonly BeamLoad[], e: number): [number, number] {
  let q1 = 0;
  let q2 = 0;
  const from = mesh.at[e]! * model.lengthIn;
  const to = mesh.at[e + 1]! * model.lengthIn;
  const middle = (from + to) / 2;
  for (const load of loads) {
    if (load.kind === 'uniform') {
      q1 += load.loadLbPerIn;
      q2 += load.loadLbPerIn;
    } else if (load.kind === 'partial' && load.fromIn < middle && middle < load.toIn) {
      q1 += load.loadLbPerIn;
      q2 += load.loadLbPerIn;
    } else if (load.kind === 'trapezoidal' && load.fromIn < middle && middle < load.toIn) {
      const rise = (load.endLbPerIn - load.startLbPerIn) / (load.toIn - load.fromIn);
      q1 += load.startLbPerIn + rise * (from - load.fromIn);
      q2 += load.startLbPerIn + rise * (to - load.fromIn);
    }
  }
  return [q1, q2];
}

function held(mesh: Mesh, model: BeamModel): Map<number, number> {
  const fixed = new Map<number, number>();
  for (const support of model.supports) {
    const node = nodeAt(mesh, model, support.atIn);
    fixed.set(mesh.drop[node]!, (support.settlementIn ?? 0) / model.lengthIn);
    if (support.kind === 'fixed') fixed.set(mesh.turnLeft[node]!, 0);
  }
  return fixed;
}

/** The smallest singular value of the supported stiffness over the largest, rows and columns scaled alike: 0 for a mechanism. */
export function firmness(model: BeamModel): number {
  const mesh = meshOf(model, [], []);
  const fixed = held(mesh, model);
  const free = Array.from({ length: mesh.count }, (_, i) => i).filter((i) => !fixed.has(i));
  if (free.length === 0) return 1;
  const part = stiffnessOf(mesh).selection(free, free);
  const scaled = Matrix.zeros(free.length, free.length);
  free.forEach((_, i) => {
    free.forEach((__, j) => {
      scaled.set(i, j, part.get(i, j) / Math.sqrt(part.get(i, i) * part.get(j, j)));
    });
  });
  const values = new SingularValueDecomposition(scaled).diagonal;
  return Math.min(...values) / Math.max(...values);
}

/** Solves, and reads the beam at every node; `extra` adds nodes at places of interest. */
export function solveByStiffness(
  model: BeamModel,
  loads: readonly BeamLoad[],
  extra: readonly number[],
): ReferenceSolution {
  const { lengthIn: length, ei } = model;
  const mesh = meshOf(model, loads, extra);
  const stiffness = stiffnessOf(mesh);
  const elements = mesh.at.length - 1;
  // Forces in lb·length²/EI: the equations are those of a beam of length 1 and EI 1.
  const unit = (length * length) / ei;
  const force = Matrix.zeros(mesh.count, 1);
  const add = (dof: number, value: number): void => {
    force.set(dof, 0, force.get(dof, 0) + value);
  };
  const elementForces: number[][] = [];
  for (let e = 0; e < elements; e++) {
    const [q1, q2] = intensities(mesh, model, loads, e);
    const own = elementLoad(q1 * length * unit, q2 * length * unit, mesh.at[e + 1]! - mesh.at[e]!);
    elementForces.push(own);
    dofsOf(mesh, e).forEach((dof, i) => {
      add(dof, own[i]!);
    });
  }
  for (const load of loads) {
    if (load.kind === 'point') add(mesh.drop[nodeAt(mesh, model, load.atIn)]!, load.loadLb * unit);
    if (load.kind === 'couple') {
      add(mesh.turnLeft[nodeAt(mesh, model, load.atIn)]!, (load.coupleLbIn / length) * unit);
    }
  }
  const fixed = held(mesh, model);
  const free = Array.from({ length: mesh.count }, (_, i) => i).filter((i) => !fixed.has(i));
  const moved = Matrix.zeros(mesh.count, 1);
  for (const [dof, value] of fixed) moved.set(dof, 0, value);
  if (free.length > 0) {
    const part = stiffness.selection(free, free);
    const scale = Matrix.diag(part.diagonal().map((value) => 1 / Math.sqrt(value)));
    const lu = new LuDecomposition(scale.mmul(part).mmul(scale));
    // Twice: the second pass solves for what the first left over.
    for (let pass = 0; pass < 3; pass++) {
      const left = Matrix.sub(force, stiffness.mmul(moved)).selection(free, [0]);
      const step = scale.mmul(lu.solve(scale.mmul(left)));
      free.forEach((dof, i) => {
        moved.set(dof, 0, moved.get(dof, 0) + step.get(i, 0));
      });
    }
  }
  return read(model, mesh, stiffness, moved, force, elementForces, unit);
}

function read(
  model: BeamModel,
  mesh: Mesh,
  stiffness: Matrix,
  moved: Matrix,
  force: Matrix,
  elementForces: readonly number[][],
  unit: number,
): ReferenceSolution {
  const length = model.lengthIn;
  const ends = elementForces.map((own, e) => {
    const h = mesh.at[e + 1]! - mesh.at[e]!;
    const local = Matrix.columnVector(dofsOf(mesh, e).map((dof) => moved.get(dof, 0)));
    const end = elementStiffness(h).mmul(local);
    return own.map((value, i) => end.get(i, 0) - value);
  });
  const section = (shear: number, moment: number, node: number, turn: number): Section => ({
    shearLb: shear / unit,
    momentLbIn: (moment * length) / unit,
    slopeRad: moved.get(turn, 0),
    deflectionIn: moved.get(mesh.drop[node]!, 0) * length,
  });
  const places = mesh.at.map((x, node): ReferencePlace => {
    const before = ends[node - 1];
    const after = ends[node];
    const right = after && section(-after[0]!, after[1]!, node, mesh.turnRight[node]!);
    const left = before && section(before[2]!, -before[3]!, node, mesh.turnLeft[node]!);
    return { atIn: x * length, left: left ?? right!, right: right ?? left! };
  });
  const residual = Matrix.sub(stiffness.mmul(moved), force);
  const reactions = model.supports.map(({ atIn, kind }) => {
    const node = nodeAt(mesh, model, atIn);
    const momentLbIn = kind === 'fixed' ? (residual.get(mesh.turnLeft[node]!, 0) * length) / unit : 0;
    return { forceLb: -residual.get(mesh.drop[node]!, 0) / unit, momentLbIn };
  });
  return { places, reactions };
}
