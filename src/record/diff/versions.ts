import type { ItemKind } from '../kinds/definition.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import type { Calculation } from '../calculation.ts';
import { movedGrounds, type RecordedGround } from '../staleness/rules.ts';
import { diffContent, type ContentChange } from './content.ts';
import { diffChecks, diffOutputs, type CheckChange, type OutputChange } from './results.ts';

/** What differs between two versions of an item, for a page to lay out. */
export interface VersionDiff {
  readonly content: readonly ContentChange[];
  readonly checks: readonly CheckChange[];
  readonly outputs: readonly OutputChange[];
  /** What it rests on, in sentences: 'Beam, left reaction: demand was 4,120 lb, is 5,310 lb'. */
  readonly grounds: readonly string[];
  readonly engine: { readonly was: string; readonly now: string } | null;
  /** Short lines that say it: 'jacks 2 → 3', 'reaction 4,120 → 5,310 lb', 'Bending: not met → met'. */
  readonly summary: readonly string[];
}

export interface DiffSide {
  readonly content: unknown;
  readonly calculation: Calculation | null;
  readonly restsOn: readonly RecordedGround[];
  readonly engineVersion: string;
}

export function diffVersions(kinds: KindRegistry, kind: ItemKind, was: DiffSide, now: DiffSide): VersionDiff {
  const content = diffContent(was.content, now.content, kinds.get(kind).labels);
  const checks = diffChecks(was.calculation, now.calculation);
  const outputs = diffOutputs(was.calculation, now.calculation);
  const engine =
    was.engineVersion === now.engineVersion ? null : { was: was.engineVersion, now: now.engineVersion };
  return {
    content,
    checks,
    outputs,
    grounds: movedGrounds(was.restsOn, now.restsOn).map((reason) => reason.sentence),
    engine,
    summary: [
      ...content.map((change) => changeLine(change.label, change.was, change.now)),
      ...outputs.map((change) => changeLine(change.name, change.was, change.now)),
      ...checks.flatMap(verdictLine),
    ],
  };
}

const LONG_TEXT = 60;

/** 'jacks 2 → 3'; a unit that both have is said once: 'reaction 4,120 → 5,310 lb'. */
export function changeLine(label: string, was: string | null, now: string | null): string {
  if (was === null) return `${label} added: ${shorten(now ?? '')}`;
  if (now === null) return `${label} removed (was ${shorten(was)})`;
  const unit = /^[\d,.-]+( .+)$/.exec(now)?.[1];
  const before = unit !== undefined && was.endsWith(unit) ? was.slice(0, -unit.length) : was;
  return `${label} ${shorten(before)} → ${shorten(now)}`;
}

function shorten(text: string): string {
  return text.length > LONG_TEXT ? `${text.slice(0, LONG_TEXT)}…` : text;
}

function verdictLine({ title, was, now }: CheckChange): string[] {
  if (was === null || now === null || was.passes === now.passes) return [];
  return [now.passes ? `${title}: not met → met` : `${title}: met → not met`];
}
