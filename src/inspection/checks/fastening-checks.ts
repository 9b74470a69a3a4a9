import { fasteningRowSchema, type FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { fastenerWords, patternWords } from '../../record/kinds/fastening/kind.ts';
import { holdPoints, type CheckRule, type VisitKind } from './check.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

function visitOf(row: FasteningRow): { visitKind: VisitKind; holdPoint: string } {
  if (row.joint === 'shoring') return { visitKind: 'shoring', holdPoint: holdPoints.wallOut };
  return { visitKind: 'framing', holdPoint: holdPoints.shoringOut };
}

/** Joints that nobody sees again once they are covered, or that a wrong nail looks right in. */
const photographed: ReadonlySet<FasteningRow['joint']> = new Set([
  'beam plies',
  'stud pack plies',
  'joist hanger',
  'joist tie',
  'top plate splice',
  'top plate strap',
]);

function clauseOf({ basis, joint }: FasteningRow): string {
  switch (basis.kind) {
    case 'prescriptive':
      return joint === 'top plate strap' ? 'IRC R602.6.1' : 'IRC Table R602.3(1)';
    case 'built-up column':
      return 'NDS 15.3.3';
    case 'listing':
      return basis.listing?.report ?? 'Listing of the connector';
    case 'anchor':
      return `${basis.declared?.report ?? 'Report of the anchor'}, IRC R403.1.6`;
    case 'yield limit':
      return 'NDS chapter 12';
  }
}

export function fasteningChecks(content: unknown, title: string): CheckRule[] {
  const row = fasteningRowSchema.parse(content);
  const { rows, rowSpacingIn } = row.pattern;
  const apart = rows > 1 && rowSpacingIn > 0 ? `, rows ${inches(rowSpacingIn)} apart` : '';
  const through = row.members.map((member) => member.name).join(' to ');
  return [
    {
      ...visitOf(row),
      rule: 'row',
      title,
      criterion: `${row.where}, ${through}: ${fastenerWords(row)}, ${row.method} ${row.driven}, ${patternWords(row)}${apart}; edge ${inches(row.edgeDistanceIn)} or more, end ${inches(row.endDistanceIn)} or more${row.prebored ? ', bored first' : ''}.`,
      clause: clauseOf(row),
      howToLook:
        'Tape along the rows, both faces where both are driven; no splits, not overdriven, length on the box.',
      photoRequired: photographed.has(row.joint),
    },
  ];
}
