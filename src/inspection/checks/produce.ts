import type { FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import { canonicalJson, sha256Hex } from '../../record/canonical.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';
import { drawingSchema } from '../../record/kinds/drawing/kind.ts';
import { beamChecks } from './beam-checks.ts';
import { visitKinds, type CheckRule, type ExtraCheck } from './check.ts';
import { fasteningChecks } from './fastening-checks.ts';
import { hangerChecks } from './hanger-checks.ts';
import { shoringChecks } from './shoring-checks.ts';
import { footingChecks, supportChecks } from './support-checks.ts';
import { wallChecks } from './wall-checks.ts';
import { wallServiceChecks } from './wall-service-checks.ts';

/** An approved version of the set, or a service frozen in it, as far as its checks need it. */
export interface ApprovedContent {
  readonly itemId: string;
  readonly versionId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly content: unknown;
}

export interface ProducedCheck extends CheckRule {
  /** Null where it comes from no version; `source` then says where from. */
  readonly versionId: string | null;
  readonly source: string;
  readonly localVisit: string;
  /** Stable from set to set. */
  readonly key: string;
}

/**
 * The checks of an approved set, in the order of the visits and of the load path, and behind them those of further
 * sources (local requirements, circuits). Pure: same set, same checks.
 */
export function produceChecks(
  entries: readonly ApprovedContent[],
  extra: readonly ExtraCheck[] = [],
): ProducedCheck[] {
  const named = whatIsNamed(entries);
  const checks = entries.flatMap((entry) =>
    rulesFor(entry, named).map((rule): ProducedCheck => ({
      ...rule,
      versionId: entry.versionId,
      source: '',
      localVisit: '',
      key: `${entry.itemId}:${rule.rule}`,
    })),
  );
  return [...checks, ...extra.map(extraCheck)]
    .map((check, place) => ({ check, place }))
    .sort(
      (one, other) =>
        visitKinds.indexOf(one.check.visitKind) - visitKinds.indexOf(other.check.visitKind) ||
        one.place - other.place,
    )
    .map(({ check }) => check);
}

/** `stem#digest`: a check whose words change is another one, and the list can say what it was before. */
export function extraCheck(check: ExtraCheck): ProducedCheck {
  const { stem, source, localVisit, rule, visitKind, title, criterion, clause, howToLook } = check;
  const { photoRequired, holdPoint } = check;
  const said = canonicalJson([
    visitKind,
    localVisit,
    title,
    criterion,
    clause,
    howToLook,
    photoRequired,
    holdPoint,
  ]);
  const key = `${stem}#${sha256Hex(said).slice(0, 12)}`;
  return {
    rule,
    visitKind,
    title,
    criterion,
    clause,
    howToLook,
    photoRequired,
    holdPoint,
    versionId: null,
    source,
    localVisit,
    key,
  };
}

/** Items that say a thing themselves; a general line about it would only repeat them. */
interface Named {
  readonly hangers: boolean;
  readonly plates: boolean;
}

function whatIsNamed(entries: readonly ApprovedContent[]): Named {
  return {
    hangers: entries.some((entry) => entry.kind === 'hanger'),
    plates: entries.some(
      ({ kind, content }) =>
        // Approved content went through its schema when it was saved.
        kind === 'fastening' && (content as FasteningRow).joint === 'top plate strap',
    ),
  };
}

function rulesFor({ kind, content, title }: ApprovedContent, named: Named): CheckRule[] {
  switch (kind) {
    case 'beam':
      return [
        ...beamChecks(content).filter((check) => !(named.hangers && check.rule === 'hangers')),
        ...wallChecks(content, named.plates),
      ];
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
    case 'service':
      return wallServiceChecks(content);
    case 'criteria':
    case 'survey':
      return [];
  }
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
