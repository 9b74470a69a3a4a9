import type { RowJudgement } from '../engineering/fasteners/index.ts';
import type { OpeningOutcome } from '../engineering/proposal/opening.ts';
import {
  clauseText,
  formatQuantity,
  substitution,
  type Check,
  type Notice,
  type Step,
} from '../engineering/trace/index.ts';

/** A calculation sheet in plain text: every check with its steps, formula → values put in → result, and clause. */
export function calculationSheet(outcome: OpeningOutcome): string {
  const parts: string[] = [
    heading('CALCULATION OF ONE OPENING', '='),
    'Record of review. Not a sealed document. The licensed engineer and the authority having jurisdiction decide.',
    verdict(outcome),
    heading('Loads, from what bears on the wall', '-'),
    ...outcome.beam.steps.map((step) => stepText(step, '')),
    section('Beam', outcome.beam),
    ...outcome.supports.map((support) => section(`Support, ${support.end} end`, support)),
    ...outcome.footings.map((footing) => section(`Footing, ${footing.end} end`, footing)),
    ...outcome.rows.map(rowSection),
  ];
  if (outcome.shoring !== undefined) {
    parts.push(section('Shoring', outcome.shoring), heading('Order of work', '-'));
    outcome.shoring.sequence.forEach((step, index) => parts.push(`${index + 1}. ${step.title}`));
    parts.push('', ...outcome.shoring.cautions.map((caution) => `CAUTION  ${caution.text}`));
  }
  return `${parts.join('\n')}\n`;
}

function heading(text: string, line: string): string {
  return `\n${text}\n${line.repeat(text.length)}`;
}

function verdict({ passes, governing }: OpeningOutcome): string {
  const worst = governing === undefined ? '' : ` Governing: ${governing.title}, ${ratio(governing.ratio)}.`;
  return `${passes ? 'All checks are met.' : 'NOT ALL CHECKS ARE MET.'}${worst}`;
}

function ratio(value: number): string {
  return Number.isFinite(value) ? value.toFixed(3) : 'no capacity';
}

interface Judged {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
  readonly outputs?: Readonly<Record<string, unknown>>;
}

function section(title: string, { checks, notices, outputs = {} }: Judged): string {
  const figures = Object.entries(outputs).map(([name, value]) => `  ${name}: ${outputText(value)}`);
  return [
    heading(title, '-'),
    ...notices.map((notice) => `${notice.severity === 'caution' ? 'CAUTION' : 'NOTE   '}  ${notice.text}`),
    ...checks.map(checkText),
    ...(figures.length === 0 ? [] : ['', 'Figures that others rest on', ...figures]),
  ].join('\n');
}

function rowSection(row: RowJudgement): string {
  return section(`Fastening row ${row.rowId}`, row);
}

function outputText(value: unknown): string {
  return typeof value === 'object' && value !== null && 'unit' in value
    ? formatQuantity(value as Parameters<typeof formatQuantity>[0])
    : String(value);
}

function checkText(check: Check): string {
  const governs = check.governing === undefined ? '' : `  [${check.governing}]`;
  return [
    `\n${check.passes ? 'met    ' : 'NOT MET'}  ${ratio(check.ratio)}  ${check.sentence}${governs}`,
    `         ${clauseText(check.clause)}`,
    ...check.steps.map((step) => stepText(step, '         ')),
  ].join('\n');
}

function stepText(step: Step, indent: string): string {
  const left = step.formula.split('=')[0]?.trim() ?? '';
  return [
    `${indent}${step.title}`,
    `${indent}  ${step.formula}`,
    `${indent}  ${left} = ${substitution(step)} = ${formatQuantity(step.result)}`,
    `${indent}  ${clauseText(step.clause)}${step.note === undefined ? '' : `. ${step.note}`}`,
  ].join('\n');
}
