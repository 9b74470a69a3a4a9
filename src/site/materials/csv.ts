import { writeRecords } from '../../engineering/fasteners/schedule/csv-text.ts';
import type { MaterialsList } from '../../engineering/materials-list/index.ts';
import { cutWords, reckoningWords, stepWords } from './words.ts';

/** The list for a spreadsheet or a yard: one line each, cells that would run as a formula made harmless. */
export function materialsCsv(list: MaterialsList): string {
  const head = [
    'For',
    'Item',
    'Order',
    'Unit',
    'Stock length, in',
    'Pieces',
    'Cut lengths',
    'Weight each, lb',
    'Weight, lb',
    'Reckoning',
  ];
  const rows = list.lines.map((line) => [
    line.steps.map((step) => stepWords[step].title).join('; '),
    line.item,
    String(line.order.count),
    line.order.unit,
    line.order.stockLengthIn === undefined ? '' : String(line.order.stockLengthIn),
    String(line.pieces),
    cutWords(line),
    line.weightLbEach.toFixed(2),
    line.weightLb.toFixed(1),
    [...reckoningWords(line), line.order.boxes ?? ''].filter((text) => text !== '').join('; '),
  ]);
  return writeRecords([head, ...rows]);
}
