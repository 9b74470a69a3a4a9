import type { Check, Editions } from '../../trace/index.ts';
import { dowelProperties } from '../dowels/fastener.ts';
import { penetrationRule, TOE_NAIL_ANGLE_DEG, TOE_NAIL_START_FRACTION } from '../dowels/penetration.ts';
import { judgeRow } from './judge.ts';
import { faceWidthIn, placeFasteners } from './placement.ts';
import type { FasteningRow } from './row.ts';

export interface DrawnRectangle {
  readonly name: string;
  readonly material: 'wood' | 'steel' | 'concrete';
  readonly xIn: number;
  readonly yIn: number;
  readonly widthIn: number;
  readonly heightIn: number;
}

export interface DrawnFastener {
  readonly xIn: number;
  readonly yIn: number;
  readonly diameterIn: number;
  /** Far-side heads are drawn open: the difference shows without colour. */
  readonly from: 'near side' | 'far side';
  /** Numbers of the violations it takes part in. */
  readonly violations: readonly number[];
}

export interface DrawnShank {
  readonly headXIn: number;
  readonly headYIn: number;
  readonly tipXIn: number;
  readonly tipYIn: number;
  readonly diameterIn: number;
  /** Depth of the point in the piece that holds it, in. */
  readonly penetrationIn: number;
  readonly neededIn: number;
  readonly protrudesIn: number;
}

/** A numbered flag in the drawing; the legend carries the sentence. */
export interface DrawnViolation {
  readonly number: number;
  readonly view: 'face' | 'section' | 'legend';
  readonly sentence: string;
  /** `rule`: the row fails by it. `advice`: splitting is likely. */
  readonly kind: 'rule' | 'advice';
  readonly xIn: number;
  readonly yIn: number;
}

export interface DrawnDimension {
  readonly label: string;
  readonly fromXIn: number;
  readonly fromYIn: number;
  readonly toXIn: number;
  readonly toYIn: number;
}

/** To scale, inches, origin lower left in both views. Plain data: the page makes SVG of it. */
export interface PatternDrawing {
  readonly face: {
    readonly widthIn: number;
    readonly heightIn: number;
    readonly members: readonly DrawnRectangle[];
    readonly fasteners: readonly DrawnFastener[];
    readonly dimensions: readonly DrawnDimension[];
    /** Longer than what is drawn: the page breaks the piece. */
    readonly cutAtIn?: number;
  };
  readonly section: {
    readonly widthIn: number;
    readonly heightIn: number;
    readonly members: readonly DrawnRectangle[];
    readonly shanks: readonly DrawnShank[];
  };
  readonly violations: readonly DrawnViolation[];
}

/** Longest stretch of a spaced pattern that is drawn; the rest repeats. */
const LONGEST_FACE_IN = 60;
/** Where a piece is endless for the purpose (stud end, concrete), this much is drawn. */
const DEEPEST_PIECE_IN = 8;

const FACE_KEYS = [
  'edge',
  'far-edge',
  'end',
  'spacing',
  'rows',
  'rowSpacing',
  'stagger',
  'nail-count',
  'concrete-edge',
];

function viewOf(check: Check): DrawnViolation['view'] {
  const key = check.id.slice(check.id.indexOf('.') + 1).split('.')[0] ?? '';
  if (FACE_KEYS.includes(key)) return 'face';
  return key === 'length' || key === 'penetration' ? 'section' : 'legend';
}

function drawnThicknessIn(thicknessIn: number): number {
  return Math.min(thicknessIn, DEEPEST_PIECE_IN);
}

function sectionOf(row: FasteningRow, heightIn: number): PatternDrawing['section'] {
  const members: DrawnRectangle[] = [];
  const shanks: DrawnShank[] = [];
  const dowel = dowelProperties(row.fastener);
  const rule = penetrationRule(row.fastener);
  const neededIn = rule === undefined ? 0 : rule.least * dowel.diameterIn;
  let x = 0;
  const starts: number[] = [];
  for (const member of row.members) {
    starts.push(x);
    const widthIn = drawnThicknessIn(member.thicknessIn);
    members.push({ name: member.name, material: member.material, xIn: x, yIn: 0, widthIn, heightIn });
    x += widthIn + row.betweenIn;
  }
  const totalIn = x - row.betweenIn;
  const last = row.members.length - 1;
  const count = row.layup === 'through' ? 1 : last;
  const alternating = row.driven !== 'one side';
  for (let index = 0; index < count; index += 1) {
    const startIn = row.layup === 'through' ? 0 : (starts[index] ?? 0);
    const y = (heightIn * (index + 1)) / (count + 1);
    const holding = row.layup === 'through' ? last : index + 1;
    const holdingFromIn = starts[holding] ?? 0;
    const holdingToIn = holdingFromIn + drawnThicknessIn(row.members[holding]?.thicknessIn ?? 0);
    shanks.push(shank(row, startIn, y, holdingFromIn, holdingToIn, neededIn));
    if (row.layup === 'through' && alternating && row.method !== 'toe') {
      const mirrored = shank(row, totalIn, y / 2, holdingFromIn, holdingToIn, neededIn);
      const back = drawnThicknessIn(row.members[0]?.thicknessIn ?? 0);
      const tipXIn = totalIn - dowel.lengthIn;
      shanks.push({
        ...mirrored,
        tipXIn,
        penetrationIn: Math.max(0, back - Math.max(0, tipXIn)),
        protrudesIn: Math.max(0, -tipXIn),
      });
    }
  }
  return { widthIn: totalIn, heightIn, members, shanks };
}

function shank(
  row: FasteningRow,
  startIn: number,
  y: number,
  holdingFromIn: number,
  holdingToIn: number,
  neededIn: number,
): DrawnShank {
  const { lengthIn, diameterIn } = dowelProperties(row.fastener);
  const toe = row.method === 'toe';
  const angle = toe ? (TOE_NAIL_ANGLE_DEG * Math.PI) / 180 : 0;
  // A toe-nail enters the first piece a third of its length before the joint and leans to it.
  const headXIn = toe ? holdingFromIn - lengthIn * TOE_NAIL_START_FRACTION : startIn;
  const tipXIn = headXIn + lengthIn * Math.cos(angle);
  return {
    headXIn,
    headYIn: y,
    tipXIn,
    tipYIn: y - lengthIn * Math.sin(angle),
    diameterIn,
    penetrationIn: Math.max(0, Math.min(tipXIn, holdingToIn) - holdingFromIn),
    neededIn,
    protrudesIn: Math.max(0, tipXIn - holdingToIn),
  };
}

function faceLengthIn(row: FasteningRow): number {
  if (row.pattern.kind === 'spaced') return row.pattern.lengthIn;
  const perRow = Math.ceil(row.pattern.count / row.pattern.rows);
  return (
    2 * row.endDistanceIn +
    (perRow - 1) * row.pattern.spacingIn +
    (row.pattern.staggered ? row.pattern.spacingIn / 2 : 0)
  );
}

function dimensionsOf(row: FasteningRow): readonly DrawnDimension[] {
  const { pattern, endDistanceIn: end, edgeDistanceIn: edge } = row;
  const dimensions: DrawnDimension[] = [
    { label: 'end distance', fromXIn: 0, fromYIn: edge, toXIn: end, toYIn: edge },
    { label: 'edge distance', fromXIn: end, fromYIn: 0, toXIn: end, toYIn: edge },
    { label: 'spacing', fromXIn: end, fromYIn: edge, toXIn: end + pattern.spacingIn, toYIn: edge },
  ];
  if (pattern.rows > 1) {
    dimensions.push({
      label: 'between rows',
      fromXIn: end,
      fromYIn: edge,
      toXIn: end,
      toYIn: edge + pattern.rowSpacingIn,
    });
  }
  return dimensions;
}

/**
 * Face and section of the row, to scale, with every check that fails and every advice not followed as a
 * numbered flag at its place. Colour is never the only sign: flags have numbers, far-side heads another shape.
 */
export function drawPattern(row: FasteningRow, editions: Editions): PatternDrawing {
  const judgement = judgeRow(row, editions);
  const heightIn = faceWidthIn(row);
  const lengthIn = faceLengthIn(row);
  const drawnIn = Math.min(lengthIn, LONGEST_FACE_IN);
  const section = sectionOf(row, heightIn);
  const failed = [
    ...judgement.checks.filter((check) => !check.passes).map((check) => ({ check, kind: 'rule' as const })),
    ...judgement.advice.filter((check) => !check.passes).map((check) => ({ check, kind: 'advice' as const })),
  ];
  const violations = failed.map(({ check, kind }, index): DrawnViolation => {
    const view = viewOf(check);
    const tip = section.shanks[0];
    const at =
      view === 'section'
        ? { xIn: tip?.tipXIn ?? 0, yIn: tip?.tipYIn ?? 0 }
        : check.id.includes('far-edge')
          ? { xIn: row.endDistanceIn, yIn: heightIn }
          : { xIn: row.endDistanceIn, yIn: row.edgeDistanceIn };
    return { number: index + 1, view, sentence: check.sentence, kind, ...at };
  });
  const faceNumbers = violations.filter((violation) => violation.view === 'face').map(({ number }) => number);
  const outer = row.members[0];
  return {
    face: {
      widthIn: drawnIn,
      heightIn,
      members: [
        {
          name: outer?.name ?? '',
          material: outer?.material ?? 'wood',
          xIn: 0,
          yIn: 0,
          widthIn: drawnIn,
          heightIn,
        },
      ],
      fasteners: placeFasteners(row)
        .filter((placed) => placed.xIn <= drawnIn + 1e-9)
        .map(({ xIn, yIn, from }) => ({
          xIn,
          yIn,
          from,
          diameterIn: dowelProperties(row.fastener).diameterIn,
          violations: yIn < 0 || yIn > heightIn || faceNumbers.length > 0 ? faceNumbers : [],
        })),
      dimensions: dimensionsOf(row),
      ...(lengthIn > drawnIn ? { cutAtIn: drawnIn } : {}),
    },
    section,
    violations,
  };
}
