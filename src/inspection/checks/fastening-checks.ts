import { fasteningRowSchema, type FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { fastenerWords, patternWords } from '../../record/kinds/fastening/kind.ts';
import { holdPoints, type CheckRule, type VisitKind } from './check.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

function visitOf(row: FasteningRow): { visitKind: VisitKind; holdPoint: string } {
  if (row.joint === 'shoring') return { visitKind: 'shoring', holdPoint: holdPoints.wallOut };
  return { visitKind: 'framing', holdPoint: holdPoints.shoringOut };
}

export function fasteningChecks(content: unknown, title: string): CheckRule[] {
  const row = fasteningRowSchema.parse(content);
  return [
    {
      ...visitOf(row),
      rule: 'row',
      title,
      criterion: `${row.where}: ${fastenerWords(row)}, ${row.method} ${row.driven}, ${patternWords(row)}; edge ${inches(row.edgeDistanceIn)} or more, end ${inches(row.endDistanceIn)} or more${row.prebored ? ', bored first' : ''}.`,
      clause:
        row.basis.kind === 'prescriptive'
          ? 'IRC Table R602.3(1)'
          : row.basis.kind === 'built-up column'
            ? 'NDS 15.3.3'
            : 'NDS chapter 12',
      howToLook:
        'Tape along the rows, both faces where both are driven; no splits, not overdriven, length on the box.',
      photoRequired: row.joint === 'beam plies' || row.joint === 'stud pack plies',
    },
  ];
}
