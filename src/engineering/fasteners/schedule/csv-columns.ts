/** How a column's cell is read: a text that may be empty, a text that is left out when empty, and so on. */
export type CellKind = 'text' | 'optional text' | 'number' | 'yes or no';

/** One column of the schedule as CSV: its heading and where in the row its value stands. */
export interface Column {
  readonly heading: string;
  readonly path: readonly (string | number)[];
  readonly kind: CellKind;
}

function column(heading: string, path: string, kind: CellKind = 'optional text'): Column {
  return { heading, path: path.split('.'), kind };
}
const number = (heading: string, path: string): Column => column(heading, path, 'number');
const flag = (heading: string, path: string): Column => column(heading, path, 'yes or no');

const BEFORE_MEMBERS: readonly Column[] = [
  column('id', 'id'),
  column('joint', 'joint'),
  column('where', 'where'),
  column('fastener', 'fastener.kind'),
  column('fastener style', 'fastener.style'),
  number('fastener gauge', 'fastener.gauge'),
  number('fastener diameter in', 'fastener.diameterIn'),
  number('fastener length in', 'fastener.lengthIn'),
  column('method', 'method'),
  column('driven', 'driven'),
  column('layup', 'layup'),
  column('pattern', 'pattern.kind'),
  number('count', 'pattern.count'),
  number('along in', 'pattern.lengthIn'),
  number('rows', 'pattern.rows'),
  number('spacing in', 'pattern.spacingIn'),
  number('row spacing in', 'pattern.rowSpacingIn'),
  flag('staggered', 'pattern.staggered'),
  number('edge distance in', 'edgeDistanceIn'),
  number('end distance in', 'endDistanceIn'),
  flag('pre-bored', 'prebored'),
  number('between pieces in', 'betweenIn'),
  column('end loading', 'endLoading'),
  column('load runs', 'loadRuns'),
  flag('diaphragm', 'inDiaphragm'),
  column('made when', 'conditions.madeWhen'),
  column('used when', 'conditions.usedWhen'),
  number('temperature F', 'conditions.temperatureF'),
  column('demand per', 'demand.per'),
  number('lateral lb', 'demand.lateralLb'),
  number('withdrawal lb', 'demand.withdrawalLb'),
  number('lateral plf', 'demand.lateralPlf'),
  number('withdrawal plf', 'demand.withdrawalPlf'),
  number('down lb', 'demand.downLb'),
  number('up lb', 'demand.upLb'),
  number('duration factor', 'demand.durationFactor'),
  column('combination', 'demand.combination', 'text'),
  column('source', 'demand.source'),
  column('judged by', 'basis.kind'),
  column('shear', 'basis.shear'),
  column('listing report', 'basis.listing.report'),
  number('listing down lb', 'basis.listing.downLb'),
  number('listing up lb', 'basis.listing.upLb'),
  number('listing nails', 'basis.listing.nailsRequired'),
  number('listing nail diameter in', 'basis.listing.nailDiameterIn'),
  number('listing nail length in', 'basis.listing.nailLengthIn'),
  flag('listing short nails', 'basis.listing.shortNailsAllowed'),
  number('concrete edge in', 'basis.concreteEdgeIn'),
  column('anchor report', 'basis.declared.report'),
  number('anchor shear lb', 'basis.declared.shearLb'),
  number('anchor tension lb', 'basis.declared.tensionLb'),
  number('anchor edge in', 'basis.declared.leastEdgeIn'),
  number('anchor spacing in', 'basis.declared.leastSpacingIn'),
  number('anchor embedment in', 'basis.declared.leastEmbedmentIn'),
  number('anchor concrete in', 'basis.declared.leastConcreteThicknessIn'),
  column('screw report', 'fastener.report'),
  number('screw root in', 'fastener.rootDiameterIn'),
  number('screw thread in', 'fastener.threadLengthIn'),
  number('screw tip in', 'fastener.tipLengthIn'),
  number('screw Fyb psi', 'fastener.fybPsi'),
  number('screw head in', 'fastener.headDiameterIn'),
  number('screw withdrawal lb per in', 'fastener.withdrawalLbPerIn'),
  number('screw pull-through lb', 'fastener.pullThroughLb'),
  number('screw lateral lb', 'fastener.lateralLb'),
  flag('screw for built-up columns', 'fastener.coversBuiltUpColumns'),
  column('code item', 'prescriptiveItem'),
  column('note', 'note', 'text'),
];

function memberColumns(index: number): readonly Column[] {
  const at = (heading: string, key: string, kind: CellKind): Column => ({
    heading: `piece ${index + 1} ${heading}`,
    path: ['members', index, key],
    kind,
  });
  return [
    at('name', 'name', 'optional text'),
    at('species', 'species', 'text'),
    at('material', 'material', 'optional text'),
    at('G', 'specificGravity', 'number'),
    at('thickness in', 'thicknessIn', 'number'),
    at('width in', 'widthIn', 'number'),
    at('load to grain deg', 'angleDeg', 'number'),
    at('E psi', 'ePsi', 'number'),
    at('Fu psi', 'ultimatePsi', 'number'),
  ];
}

export const MOST_MEMBERS = 6;

/** All columns for rows of up to so many pieces, in the order in which they are written. */
export function scheduleColumns(pieces: number): readonly Column[] {
  return [...BEFORE_MEMBERS, ...Array.from({ length: pieces }, (_, index) => memberColumns(index)).flat()];
}

/** Columns that are written for the reader and skipped when read back. */
export const RESULT_HEADINGS = ['result demand', 'result capacity', 'result ratio', 'result passes'] as const;
