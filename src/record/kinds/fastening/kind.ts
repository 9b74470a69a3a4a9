import { fasteningRowSchema, type FasteningRow } from '../../../engineering/fasteners/schedule/row.ts';
import { endOfRow } from '../../../engineering/fasteners/schedule/row-end.ts';
import { countedFasteners } from '../../../engineering/fasteners/schedule/words.ts';
import { judgeRow } from '../../../engineering/fasteners/schedule/judge.ts';
import type { Support } from '../../../engineering/proposal/design.ts';
import type { Survey } from '../../../engineering/proposal/survey.ts';
import { qty } from '../../../engineering/trace/index.ts';
import { formatInches } from '../../../engineering/units/index.ts';
import type { ItemKindDefinition } from '../definition.ts';
import { allOf, onlyOf } from '../definition.ts';
import { criteriaOf, outputsFrom } from '../grounds.ts';
import { roofFigures } from './roof-figures.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

/** The fastener as diameter × length × kind; penny names mislead (box and common nails share them). */
export function fastenerWords({ fastener }: FasteningRow): string {
  switch (fastener.kind) {
    case 'nail':
      return `${fastener.diameterIn.toFixed(3).slice(1)} x ${inches(fastener.lengthIn)} ${fastener.style} nail`;
    case 'wood screw':
      return `No. ${fastener.gauge} x ${inches(fastener.lengthIn)} wood screw`;
    case 'structural screw':
      return `${inches(fastener.diameterIn)} x ${inches(fastener.lengthIn)} structural screw (${fastener.report})`;
    case 'lag screw':
    case 'bolt':
      return `${inches(fastener.diameterIn)} x ${inches(fastener.lengthIn)} ${fastener.kind}`;
  }
}

/** '8 nails in the joint, 2 rows', or '2 rows at 12"'. */
export function patternWords({ pattern, fastener }: Pick<FasteningRow, 'pattern' | 'fastener'>): string {
  const stagger = pattern.staggered ? ', staggered' : '';
  const rows = pattern.rows === 1 ? '1 row' : `${pattern.rows} rows`;
  return pattern.kind === 'count'
    ? `${countedFasteners(fastener, pattern.count)} in the joint, ${rows}${stagger}`
    : `${rows} at ${inches(pattern.spacingIn)}${stagger}`;
}

/** Rows whose demand comes from the beam rest on these figures of it. */
const fromBeam: Readonly<Partial<Record<FasteningRow['joint'], readonly string[]>>> = {
  'beam plies': ['side load', 'moment'],
  'joist hanger': ['joist end'],
  'beam seat': ['left uplift', 'right uplift'],
};

export const fasteningKind: ItemKindDefinition<FasteningRow> = {
  kind: 'fastening',
  title: 'Fastening row',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey', 'beam', 'support'],
  schema: fasteningRowSchema,
  labels: {
    'fastener.diameterIn': 'fastener diameter',
    'fastener.lengthIn': 'fastener length',
    'pattern.rows': 'rows',
    'pattern.spacingIn': 'spacing',
    'pattern.count': 'count',
  },
  describe: (row) => [
    `${row.where}: ${row.members.map((member) => member.name).join(' to ')}`,
    `${fastenerWords(row)}, ${row.method} ${row.driven}, ${patternWords(row)}`,
    `Edge ${inches(row.edgeDistanceIn)}, end ${inches(row.endDistanceIn)}${row.prebored ? ', bored first' : ''}${row.note === '' ? '' : `. ${row.note}`}`,
  ],
  restsOn(row, context) {
    const criteria = criteriaOf(context);
    const { nds, irc } = criteria.content.editions;
    const grounds = [{ on: criteria.item, label: 'editions', values: { NDS: nds, IRC: irc } }];
    const survey = onlyOf(context, 'survey');
    const roof = survey && roofFigures(row.joint, survey.content as Survey, criteria.content);
    if (survey !== undefined && roof !== undefined) {
      return [...grounds, { on: survey, label: 'loads of the roof', values: roof }];
    }
    const names = fromBeam[row.joint];
    const beam = onlyOf(context, 'beam');
    if (names !== undefined && beam !== undefined) {
      return [...grounds, { on: beam, label: 'loads on the joint', values: outputsFrom(beam, names) }];
    }
    if (row.joint === 'stud pack plies' || row.joint === 'jack to king') {
      // The row of one pack says so ; any other may be of either.
      const end = endOfRow(row);
      const packs = allOf(context, 'support')
        .filter((pack) => end === undefined || (pack.content as Support).end === end)
        .map((pack) => ({
          on: pack,
          label: 'the pack and its load',
          values: outputsFrom(pack, ['load', 'uplift', 'jacks']),
        }));
      return [...grounds, ...packs];
    }
    return grounds;
  },
  calculate(row, context) {
    const judged = judgeRow(row, criteriaOf(context).content.editions);
    const beside = judged.prescriptive;
    return {
      checks: judged.checks,
      steps: judged.advice.flatMap((advice) => advice.steps),
      notices: [
        ...judged.notices,
        ...judged.advice
          .filter((advice) => !advice.passes)
          .map((advice) => ({
            id: advice.id,
            severity: 'note' as const,
            text: advice.sentence,
            clause: advice.clause,
          })),
        ...(beside === undefined
          ? []
          : [
              {
                id: `${row.id}.prescriptive`,
                severity: beside.outcome === 'falls short' ? ('caution' as const) : ('note' as const),
                text: beside.sentence,
              },
            ]),
      ],
      outputs: {
        demand: judged.demand,
        capacity: judged.capacity,
        ratio: Number.isFinite(judged.ratio) ? qty(judged.ratio) : 'no capacity',
      },
    };
  },
};
