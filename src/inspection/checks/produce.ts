import { shoringSchema } from '../../engineering/proposal/design.ts';
import { formatFeetInches, formatInches } from '../../engineering/units/index.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';
import { drawingSchema } from '../../record/kinds/drawing/kind.ts';
import { beamChecks } from './beam-checks.ts';
import { holdPoints, visitKinds, type CheckRule } from './check.ts';
import { fasteningChecks } from './fastening-checks.ts';
import { hangerChecks } from './hanger-checks.ts';
import { footingChecks, supportChecks } from './support-checks.ts';

/** An approved version, as far as its checks need it. */
export interface ApprovedContent {
  readonly itemId: string;
  readonly versionId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly content: unknown;
}

export interface ProducedCheck extends CheckRule {
  readonly versionId: string;
  /** Stable from set to set. */
  readonly key: string;
}

/** The checks of an approved set, in the order of the visits and of the load path. Pure: same set, same checks. */
export function produceChecks(entries: readonly ApprovedContent[]): ProducedCheck[] {
  // Hanger lines say their own nails: the beam's general line about hangers would only repeat them.
  const hangersNamed = entries.some((entry) => entry.kind === 'hanger');
  const checks = entries.flatMap((entry) =>
    rulesFor(entry, hangersNamed).map((rule) => ({
      ...rule,
      versionId: entry.versionId,
      key: `${entry.itemId}:${rule.rule}`,
    })),
  );
  return checks
    .map((check, place) => ({ check, place }))
    .sort(
      (one, other) =>
        visitKinds.indexOf(one.check.visitKind) - visitKinds.indexOf(other.check.visitKind) ||
        one.place - other.place,
    )
    .map(({ check }) => check);
}

function rulesFor({ kind, content, title }: ApprovedContent, hangersNamed: boolean): CheckRule[] {
  switch (kind) {
    case 'beam':
      return beamChecks(content).filter((check) => !(hangersNamed && check.rule === 'hangers'));
    case 'support':
      return supportChecks(content);
    case 'footing':
      return footingChecks(content);
    case 'fastening':
      return fasteningChecks(content, title);
    case 'shoring':
      return shoringChecks(content);
    case 'drawing':
      return drawingChecks(content);
    case 'hanger':
      return hangerChecks(content);
    case 'criteria':
    case 'survey':
      return [];
  }
}

function shoringChecks(content: unknown): CheckRule[] {
  const shoring = shoringSchema.parse(content);
  return [
    {
      rule: 'walls',
      visitKind: 'shoring',
      title: 'Temporary walls in',
      criterion: `${shoring.sides === 'both' ? 'Both sides' : `The ${shoring.sides} side`}, ${formatFeetInches(shoring.offsetIn, { to: 16 })} off, ${shoring.studSize} at ${formatInches(shoring.studSpacingIn, { to: 16 })}, ${shoring.topPlates} top plates, ${shoring.storeysShored} ${shoring.storeysShored === 1 ? 'storey' : 'storeys'} shored down to something that carries it${shoring.bracesRelanded ? ', roof braces re-landed' : ''}.`,
      clause: '29 CFR 1926.850',
      howToLook:
        'Follow every load down: no stud over an unsupported joist. Anything moving: stop and call the engineer.',
      photoRequired: true,
      holdPoint: holdPoints.wallOut,
    },
  ];
}

function drawingChecks(content: unknown): CheckRule[] {
  const drawing = drawingSchema.parse(content);
  return [
    {
      rule: 'on-site',
      visitKind: 'framing',
      title: 'Approved drawing on site',
      criterion: `${drawing.name}, revision ${drawing.revision}, the same file (${drawing.sha256.slice(0, 12)}).`,
      clause: 'IRC R106.3.1',
      howToLook: 'Compare revision and hash on the sheet with this line.',
      photoRequired: false,
      holdPoint: '',
    },
  ];
}
