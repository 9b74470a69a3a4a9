import {
  rowChanges,
  patternText,
  fastenerLabel,
  type FasteningRow,
} from '../../engineering/fasteners/index.ts';
import type { Editions } from '../../engineering/trace/index.ts';
import { formatQuantity, unlessRefused, type Quantity } from '../../engineering/trace/index.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { nailingPicture, type Picture } from '../../report/pictures/index.ts';
import { ratioText } from '../../web/check-view.ts';
import type { Calculation, OutputValue } from '../calculation.ts';
import { diffOutputs } from '../diff/results.ts';
import { changeLine } from '../diff/versions.ts';
import { drawnOnceOrNot } from '../pages/kept-pictures.ts';
import { fastenerWords } from '../kinds/fastening/kind.ts';
import type { VersionRecord } from '../versions/store.ts';

/** One revision of a row: what a mark in the margin of a printed schedule stands for. */
export interface Revision {
  readonly number: number;
  readonly at: Date;
  readonly by: string;
  readonly role: string;
  readonly reason: string;
  /** In short lines; empty for the first version. */
  readonly changes: readonly string[];
}

/** A row of the schedule in words ready to print. */
export interface RowWords {
  readonly itemId: string;
  readonly key: string;
  readonly title: string;
  readonly number: number;
  readonly hash: string;
  readonly where: string;
  readonly pieces: string;
  readonly fastener: string;
  readonly pattern: string;
  readonly distances: string;
  readonly note: string;
  readonly source: string;
  readonly result: ResultWords | null;
  readonly revisions: readonly Revision[];
}

/** What the calculation of the version came to, as it was made then. */
export interface ResultWords {
  /** The check that speaks for the row. */
  readonly check: string;
  readonly demand: string;
  readonly capacity: string;
  readonly ratio: string;
  readonly passes: boolean;
  /** What is missing; empty where all checks are met. */
  readonly sentence: string;
  /** The code's own row; null where none was named. */
  readonly prescriptive: { readonly text: string; readonly fallsShort: boolean } | null;
}

const inches = (value: number): string => formatInches(value, { to: 16 });

function isQuantity(value: OutputValue | undefined): value is Quantity {
  return typeof value === 'object';
}

function sameQuantity(one: Quantity, other: Quantity): boolean {
  return one.value === other.value && one.unit === other.unit;
}

export function resultWords(calculation: Calculation | null): ResultWords | null {
  if (calculation === null) return null;
  const { demand, capacity } = calculation.outputs;
  if (!isQuantity(demand) || !isQuantity(capacity)) return null;
  const speaking = calculation.checks.find(
    (check) => sameQuantity(check.demand, demand) && sameQuantity(check.capacity, capacity),
  );
  const passes = calculation.checks.every((check) => check.passes);
  const beside = calculation.notices.find((notice) => notice.id.endsWith('.prescriptive'));
  return {
    check: speaking?.title ?? '',
    demand: formatQuantity(demand),
    capacity: formatQuantity(capacity),
    ratio: speaking === undefined ? '' : ratioText(speaking.ratio, speaking.passes),
    passes,
    sentence: passes ? '' : (speaking?.sentence ?? ''),
    prescriptive:
      beside === undefined ? null : { text: beside.text, fallsShort: beside.severity === 'caution' },
  };
}

/** What changed between two versions of a row: its columns, then what came out differently. */
export function changesBetween(was: VersionRecord, now: VersionRecord): readonly string[] {
  const columns = rowChanges(was.content as FasteningRow, now.content as FasteningRow).map((change) =>
    columnLine(change.heading, change.was, change.now),
  );
  const results = diffOutputs(was.calculation, now.calculation).map((change) =>
    changeLine(change.name, change.was, change.now),
  );
  return [...columns, ...results];
}

/** The heading of a column ends in its unit, 'row spacing in'; read in a line, the figures bear it. */
function columnLine(heading: string, was: string, now: string): string {
  const [, name = heading, unit = ''] = /^(.+) (in|deg|psi|lb|plf)$/.exec(heading) ?? [];
  const withUnit = (cell: string) => (cell === '' ? null : unit === '' ? cell : `${cell} ${unit}`);
  return changeLine(name, withUnit(was), withUnit(now));
}

/** @param versions of one item, oldest first */
export function revisionsOf(versions: readonly VersionRecord[]): readonly Revision[] {
  return versions.map((version, index) => {
    const before = versions[index - 1];
    return {
      number: version.number,
      at: version.at,
      by: version.authorName,
      role: version.authorRole,
      reason: version.reason,
      changes: before === undefined ? [] : changesBetween(before, version),
    };
  });
}

export function rowWords(
  item: { readonly itemId: string; readonly key: string; readonly title: string },
  version: VersionRecord,
  revisions: readonly Revision[],
): RowWords {
  const row = version.content as FasteningRow;
  const { itemId, key, title } = item;
  const between = row.betweenIn === 0 ? '' : `, ${inches(row.betweenIn)} between`;
  return {
    itemId,
    key,
    title,
    number: version.number,
    hash: version.hash,
    where: row.where,
    pieces: row.members
      .map((member) => (member.species === '' ? member.name : `${member.name} (${member.species})`))
      .join(' to ')
      .concat(between),
    fastener: fastenerLabel(row.fastener),
    pattern: patternText(row),
    distances: `${row.method === 'face' ? 'face-driven' : `${row.method}-nailed`}, edge ${inches(row.edgeDistanceIn)}, end ${inches(row.endDistanceIn)}`,
    note: row.note,
    source: [row.demand.combination, row.demand.source].filter((text) => text !== '').join(': '),
    result: resultWords(version.calculation),
    revisions,
  };
}

/**
 * The pattern of a row, drawn by the editions of the criteria that its version rests on; null where it can't be drawn:
 * the row is still there in words and figures.
 */
export function rowPicture(
  key: string,
  row: FasteningRow,
  editions: Editions,
  sheetWidth?: number,
): Picture | null {
  const id = `row-${key.toLowerCase()}`;
  return drawnOnceOrNot(['schedule', id, row, editions, sheetWidth], () =>
    unlessRefused(() => nailingPicture(id, row, editions, fastenerWords(row), sheetWidth)),
  );
}
