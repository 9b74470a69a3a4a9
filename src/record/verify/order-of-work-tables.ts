import type { RecordedTable } from './tables.ts';

const where = (ids: string[]) => ({ where: { id: { in: ids } } });

/** What was planned and logged of the order of work, and what comes out that is of use. */
export const orderOfWorkTables: readonly RecordedTable[] = [
  {
    table: 'sequence_plan',
    types: ['sequence.planned'],
    idField: 'planId',
    strays: true,
    compared: { load: (tx, ids) => tx.sequencePlan.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'work_entry',
    types: ['work.logged'],
    idField: 'workEntryId',
    strays: true,
    compared: { load: (tx, ids) => tx.workEntry.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'work_withdrawal',
    types: ['work.withdrawn'],
    idField: 'workWithdrawalId',
    strays: true,
    compared: {
      load: (tx, ids) => tx.workWithdrawal.findMany({ ...where(ids), include: { entry: true } }),
      by: 'byId',
      at: 'at',
      derived: (_id, row) => {
        const { openingId, title } = row.entry as { readonly openingId: string; readonly title: string };
        return { openingId, title };
      },
    },
  },
  {
    table: 'salvage_line',
    types: ['salvage.listed'],
    idField: 'salvageLineId',
    strays: true,
    compared: { load: (tx, ids) => tx.salvageLine.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'salvage_word',
    types: ['salvage.worded'],
    idField: 'salvageWordId',
    strays: true,
    compared: {
      load: (tx, ids) => tx.salvageWord.findMany({ ...where(ids), include: { line: true } }),
      by: 'byId',
      at: 'at',
      derived: (_id, row) => {
        const { openingId, what } = row.line as { readonly openingId: string; readonly what: string };
        return { openingId, what };
      },
    },
  },
];
