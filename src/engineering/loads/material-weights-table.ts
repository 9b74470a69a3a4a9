/** Where on the house a material is found; the groups of the table. */
export type MaterialGroup = 'ceiling' | 'roof' | 'sheathing' | 'insulation' | 'floor' | 'wall' | 'allowance';

export interface MaterialWeight {
  readonly id: string;
  readonly group: MaterialGroup;
  readonly name: string;
  /** psf of surface; psf for one inch of thickness where `perInch`. */
  readonly psf: number;
  readonly perInch?: true;
  /** `table`: ASCE 7 Table C3.1-1a, from memory. `practice`: a usual allowance, common practice. */
  readonly source: 'table' | 'practice';
}

type Row = readonly [id: string, name: string, psf: number, by?: 'inch'];

function rows(
  group: MaterialGroup,
  source: MaterialWeight['source'],
  list: readonly Row[],
): MaterialWeight[] {
  return list.map(([id, name, psf, by]) => ({
    id,
    group,
    name,
    psf,
    source,
    ...(by === 'inch' ? { perInch: true as const } : {}),
  }));
}

/**
 * Weights of materials, psf. Rows marked `table` are those of ASCE 7 commentary Table C3.1-1a (7-16; 7-22 Table
 * C3.1-1a alike), written down from memory and to be held against the printed table; joist rows are for
 * seasoned lumber with a double wood floor and no plaster. Rows marked `practice` are allowances that span
 * tables and surveyors use (IRC Tables R502.3.1 and R802.4.1 assume 10 or 20 psf).
 */
export const MATERIAL_WEIGHTS: readonly MaterialWeight[] = [
  ...rows('ceiling', 'table', [
    ['acoustical-fiberboard', 'Acoustical fiberboard', 1],
    ['gypsum-board', 'Gypsum board (0.55 psf for 1/8 in)', 4.4, 'inch'],
    ['duct-allowance', 'Mechanical duct allowance', 4],
    ['plaster-on-concrete', 'Plaster on tile or concrete', 5],
    ['plaster-on-wood-lath', 'Plaster on wood lath', 8],
    ['suspended-steel-channel', 'Suspended steel channel system', 2],
    ['suspended-gypsum-plaster', 'Suspended metal lath and gypsum plaster', 10],
    ['suspended-cement-plaster', 'Suspended metal lath and cement plaster', 15],
    ['wood-furring', 'Wood furring suspension system', 2.5],
  ]),
  ...rows('roof', 'table', [
    ['asbestos-cement-shingles', 'Asbestos-cement shingles', 4],
    ['asphalt-shingles', 'Asphalt shingles, one layer', 2],
    ['cement-tile', 'Cement tile', 16],
    ['clay-tile-roman', 'Clay tile, Roman, without mortar', 12],
    ['clay-tile-spanish', 'Clay tile, Spanish, without mortar', 19],
    ['clay-tile-book-2in', 'Clay tile, book, 2 in, without mortar', 12],
    ['clay-tile-book-3in', 'Clay tile, book, 3 in, without mortar', 20],
    ['clay-tile-interlocking', 'Clay tile, interlocking flat, without mortar', 10],
    ['tile-mortar', 'Mortar under clay tile', 10],
    ['copper-or-tin', 'Copper or tin', 1],
    ['slate-3-16in', 'Slate, 3/16 in', 7],
    ['slate-1-4in', 'Slate, 1/4 in', 10],
    ['wood-shingles', 'Wood shingles', 3],
    ['membrane-gravel', 'Bituminous membrane, gravel covered', 5.5],
    ['membrane-smooth', 'Bituminous membrane, smooth surface', 1.5],
    ['membrane-liquid', 'Liquid-applied membrane', 1],
    ['membrane-single-ply', 'Single-ply sheet membrane', 0.7],
    ['fiberboard-1-2in', 'Fiberboard, 1/2 in', 0.75],
    ['gypsum-sheathing-1-2in', 'Gypsum sheathing, 1/2 in', 2],
    ['decking-2in', 'Wood decking, 2 in, Douglas fir', 5],
    ['decking-3in', 'Wood decking, 3 in, Douglas fir', 8],
    ['skylight', 'Skylight, metal frame, 3/8 in wire glass', 8],
  ]),
  ...rows('roof', 'practice', [
    ['underlayment-felt', 'Felt underlayment, one layer', 0.3],
    ['standing-seam-steel', 'Standing seam steel roofing', 1.5],
  ]),
  ...rows('sheathing', 'table', [
    ['plywood', 'Plywood (0.4 psf for 1/8 in)', 3.2, 'inch'],
    ['wood-board-sheathing', 'Wood sheathing boards', 3, 'inch'],
  ]),
  ...rows('sheathing', 'practice', [['oriented-strand-board', 'Oriented strand board', 3.3, 'inch']]),
  ...rows('insulation', 'practice', [
    ['fiberglass-batt', 'Fiberglass batt, loose', 0.05, 'inch'],
    ['cellulose-blown', 'Cellulose, blown', 0.15, 'inch'],
  ]),
  ...rows('insulation', 'table', [
    ['fibrous-glass-board', 'Fibrous glass board', 1.1, 'inch'],
    ['fiberboard-insulation', 'Fiberboard insulation', 1.5, 'inch'],
    ['perlite-board', 'Perlite board', 0.8, 'inch'],
    ['polystyrene-foam', 'Polystyrene foam', 0.2, 'inch'],
    ['urethane-foam', 'Urethane foam with skin', 0.5, 'inch'],
  ]),
  ...rows('floor', 'table', [
    ['hardwood-7-8in', 'Hardwood flooring, 7/8 in', 4],
    ['subflooring-3-4in', 'Subflooring, 3/4 in', 3],
    ['linoleum-1-4in', 'Linoleum or asphalt tile, 1/4 in', 1],
    ['ceramic-tile-thin-mortar', 'Ceramic or quarry tile, 3/4 in, on 1/2 in mortar bed', 16],
    ['ceramic-tile-thick-mortar', 'Ceramic or quarry tile, 3/4 in, on 1 in mortar bed', 23],
    ['slate-floor', 'Slate', 15, 'inch'],
    ['stone-concrete-fill', 'Stone concrete fill', 12, 'inch'],
    ['lightweight-concrete-fill', 'Lightweight concrete fill', 8, 'inch'],
    ['sand-fill', 'Sand fill', 8, 'inch'],
    ['floor-joists-2x6-12in', '2x6 joists at 12 in, double wood floor', 6],
    ['floor-joists-2x6-16in', '2x6 joists at 16 in, double wood floor', 5],
    ['floor-joists-2x6-24in', '2x6 joists at 24 in, double wood floor', 5],
    ['floor-joists-2x8-12in', '2x8 joists at 12 in, double wood floor', 6],
    ['floor-joists-2x8-16in', '2x8 joists at 16 in, double wood floor', 6],
    ['floor-joists-2x8-24in', '2x8 joists at 24 in, double wood floor', 5],
    ['floor-joists-2x10-12in', '2x10 joists at 12 in, double wood floor', 7],
    ['floor-joists-2x10-16in', '2x10 joists at 16 in, double wood floor', 6],
    ['floor-joists-2x10-24in', '2x10 joists at 24 in, double wood floor', 6],
    ['floor-joists-2x12-12in', '2x12 joists at 12 in, double wood floor', 8],
    ['floor-joists-2x12-16in', '2x12 joists at 16 in, double wood floor', 7],
    ['floor-joists-2x12-24in', '2x12 joists at 24 in, double wood floor', 6],
  ]),
  ...rows('floor', 'practice', [['carpet-and-pad', 'Carpet and pad', 1]]),
  ...rows('wall', 'table', [
    ['partition-movable-steel', 'Movable steel partition', 4],
    ['partition-gypsum-both-sides', 'Wood or steel studs, 1/2 in gypsum board each side', 8],
    ['partition-unplastered', 'Wood studs, 2x4, bare', 4],
    ['partition-plastered-one-side', 'Wood studs, 2x4, plastered one side', 12],
    ['partition-plastered-both-sides', 'Wood studs, 2x4, plastered both sides', 20],
    ['exterior-2x4-siding', 'Exterior 2x4 at 16 in, 5/8 in gypsum, insulated, 3/8 in siding', 11],
    ['exterior-2x6-siding', 'Exterior 2x6 at 16 in, 5/8 in gypsum, insulated, 3/8 in siding', 12],
    ['exterior-brick-veneer', 'Exterior stud wall with brick veneer', 48],
    ['windows', 'Windows, glass, frame and sash', 8],
    ['clay-brick-4in', 'Clay brick, one wythe, 4 in', 39],
  ]),
  ...rows('allowance', 'practice', [
    ['roof-light', 'Roof with light covering and framing', 10],
    ['roof-heavy', 'Roof with heavier covering or a ceiling attached', 15],
    ['floor-usual', 'Floor', 10],
    ['floor-heavy', 'Floor with tile or heavy partitions', 20],
    ['ceiling-no-storage', 'Ceiling, no storage', 5],
    ['ceiling-limited-storage', 'Ceiling, limited storage', 10],
  ]),
];
