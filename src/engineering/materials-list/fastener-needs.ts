import { endOfRow, totalCount, type FasteningRow, type Joint } from '../fasteners/index.ts';
import type { Beam, Hanger, Support } from '../proposal/design.ts';
import type { Survey } from '../proposal/survey.ts';
import type { MaterialStep } from './called-for.ts';
import type { FastenerNeed, HangerNeed } from './needs.ts';

export interface KeyedRow {
  readonly key: string;
  readonly row: FasteningRow;
}

export interface KeyedHanger {
  readonly key: string;
  readonly hanger: Hanger;
}

/** The opening that the rows belong to, as far as it says how often a row occurs. */
export interface Occurrence {
  readonly beam?: Beam;
  readonly beamLengthIn: number;
  readonly supports: readonly Support[];
  readonly survey: Survey;
  readonly hangers: readonly KeyedHanger[];
  /** Of all temporary walls; 0 where none are planned. */
  readonly temporaryStuds: number;
}

const stepOfJoint: Readonly<Record<Joint, MaterialStep>> = {
  'beam plies': 'beam',
  'stud pack plies': 'packs',
  'jack to king': 'packs',
  'king to plate': 'packs',
  'beam to king': 'beam',
  'beam seat': 'beam',
  'joist hanger': 'joists',
  'joist tie': 'joists',
  'top plate splice': 'beam',
  'top plate strap': 'beam',
  'sole plate anchor': 'packs',
  'brace foot': 'shoring',
  shoring: 'shoring',
  other: 'beam',
};

/**
 * A row of the schedule says its pattern once; how often it occurs follows from its joint: faces between plies, packs,
 * ends of the beam, joists, braces. What can't be told from the joint is counted once, and the reckoning says so.
 */
export function fastenerNeeds(rows: readonly KeyedRow[], opening: Occurrence): FastenerNeed[] {
  return rows.flatMap(({ key, row }): FastenerNeed[] => {
    const inPattern = totalCount(row);
    const pliesApart = rows.some(
      (other) => other.row.joint === 'stud pack plies' && sharePack(other.row, row),
    );
    const occurs = occurrences(row, opening, pliesApart);
    const count = occurs.reduce((product, { times }) => product * times, inPattern);
    if (count === 0) return [];
    const factors = occurs.filter(({ times }) => times !== 1).map(({ times, what }) => `${times} ${what}`);
    return [
      {
        step: stepOfJoint[row.joint],
        sources: [`fastening:${key}`],
        fastener: row.fastener,
        count,
        reckoning: `${key}: ${[`${inPattern} in the pattern`, ...factors].join(' × ')}`,
      },
    ];
  });
}

/** Are the two rows of one pack? A row that names no end is of both. */
function sharePack(one: FasteningRow, other: FasteningRow): boolean {
  const [first, second] = [endOfRow(one), endOfRow(other)];
  return first === undefined || second === undefined || first === second;
}

/** @param pliesApart the jacks of the pack are nailed to one another by a row of their own */
function occurrences(
  row: FasteningRow,
  opening: Occurrence,
  pliesApart: boolean,
): readonly { readonly times: number; readonly what: string }[] {
  const { beam, survey } = opening;
  const end = endOfRow(row);
  const supports = opening.supports.filter((support) => end === undefined || support.end === end);
  const faces = (plies: number) => (row.layup === 'through' ? 1 : Math.max(1, plies - 1));
  const packs = { times: Math.max(1, supports.length), what: 'packs' };
  switch (row.joint) {
    case 'beam plies':
      return [{ times: faces(pliesOf(beam) ?? row.members.length), what: 'faces between plies' }];
    case 'stud pack plies':
      return [packs, { times: faces(mostOf(supports, ({ jacks }) => jacks)), what: 'faces between plies' }];
    case 'jack to king':
      return [
        packs,
        {
          times: pliesApart
            ? Math.max(
                1,
                mostOf(supports, ({ kings }) => kings),
              )
            : faces(mostOf(supports, ({ jacks, kings }) => jacks + kings)),
          what: 'faces between studs',
        },
      ];
    case 'king to plate':
      return [
        packs,
        {
          times: Math.max(
            1,
            mostOf(supports, ({ kings }) => kings),
          ),
          what: 'kings',
        },
      ];
    case 'beam to king':
    case 'beam seat':
    case 'sole plate anchor':
    case 'top plate splice':
    case 'top plate strap':
      return [{ times: end === undefined ? 2 : 1, what: 'ends' }];
    case 'joist hanger':
      return [{ times: hangersOf(opening), what: 'hangers' }];
    case 'joist tie':
      return [
        { times: joistsAlong(opening.beamLengthIn, survey.strips[0]?.spacingIn ?? 16), what: 'joists' },
      ];
    case 'brace foot':
      return [{ times: Math.max(1, survey.braces.length), what: 'braces' }];
    case 'shoring':
      return [
        { times: Math.max(1, opening.temporaryStuds), what: 'temporary studs' },
        { times: opening.temporaryStuds > 0 ? 2 : 1, what: 'ends' },
      ];
    case 'other':
      return [];
  }
}

function pliesOf(beam: Beam | undefined): number | undefined {
  if (beam === undefined) return undefined;
  const { member } = beam;
  if (member.kind === 'flitch') return member.woodPlies + member.plates;
  return 'plies' in member ? member.plies : 1;
}

function mostOf(supports: readonly Support[], count: (support: Support) => number): number {
  return Math.max(0, ...supports.map(count));
}

/** Joists at a spacing along a length, one at the very beginning. */
export function joistsAlong(lengthIn: number, spacingIn: number): number {
  return Math.floor(lengthIn / spacingIn + 1e-9) + 1;
}

function hangersOf({ hangers, survey, beamLengthIn, beam }: Occurrence): number {
  if (hangers.length > 0) {
    return hangers.reduce((sum, { hanger }) => sum + joistsAlong(beamLengthIn, hanger.spacingIn), 0);
  }
  if (beam?.placement === 'dropped') return 0;
  return survey.strips
    .filter((strip) => strip.carries !== 'roof')
    .reduce((sum, strip) => {
      const sides = (strip.frontSpanIn > 0 ? 1 : 0) + (strip.rearSpanIn > 0 ? 1 : 0);
      return sum + sides * joistsAlong(beamLengthIn, strip.spacingIn);
    }, 0);
}

/** The hangers of each line and the nails that go into them, all holes filled. */
export function hangerNeeds(
  hangers: readonly KeyedHanger[],
  beamLengthIn: number,
): { readonly hangers: HangerNeed[]; readonly nails: FastenerNeed[] } {
  const needs: HangerNeed[] = [];
  const nails: FastenerNeed[] = [];
  for (const { key, hanger } of hangers) {
    const count = joistsAlong(beamLengthIn, hanger.spacingIn);
    const sources = [`hanger:${key}`];
    needs.push({
      step: 'joists',
      sources,
      joistSize: hanger.joistSize,
      listing: hanger.listing?.report ?? 'listing not chosen yet',
      count,
      reckoning: `${key}: joists at ${hanger.spacingIn} in along the beam`,
    });
    nails.push({
      step: 'joists',
      sources,
      fastener: {
        kind: 'nail',
        style: 'connector',
        diameterIn: hanger.nailDiameterIn,
        lengthIn: hanger.nailLengthIn,
      },
      count: count * hanger.nailCount,
      reckoning: `${key}: ${hanger.nailCount} a hanger × ${count} hangers`,
    });
  }
  return { hangers: needs, nails };
}
