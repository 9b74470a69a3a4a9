import { createHash } from 'node:crypto';
import type { BlobStore } from '../../attachments/storage/blob-store.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { isTimeZone } from '../../house-time.ts';
import type { Transaction } from '../../record/events/append.ts';
import { Broken, breakIf } from '../../record/verify/report.ts';
import { verifyWithin } from '../../record/verify/verify.ts';
import { asLines, withRows, type Row } from './rows.ts';
import { packedTables, type PackedTable } from './tables.ts';
import { openPackage, type Package } from './unpack.ts';
import { rowsOf, verifyPackage } from './verify.ts';

const BATCH = 50;
const LIMIT_MS = 2 * 60 * 60_000;

/** Ids that are names within a row's own table, and point at nothing. */
const OWN_NAMES = new Set(['note_id', 'line_id']);

/** No hash that any password has: nobody signs in by it. */
const NO_PASSWORD = 'none';

export interface ImportDeps {
  readonly prisma: PrismaClient;
  readonly blobs: BlobStore;
  readonly databaseUrl: string;
}

/** The record can't be taken in; nothing was. */
export class ImportRefused extends Error {
  override readonly name = 'ImportRefused';
}

/**
 * Takes a package into this installation: the files first, then every row in one transaction, which is verified
 * before it ends. People become accounts without address and without password. Ids and hashes stay.
 *
 * @returns whether it was taken in, or was here already, the same.
 * @throws Broken where the package does not hold; ImportRefused where the installation has other content.
 */
export async function importPackage(deps: ImportDeps, file: string): Promise<'taken in' | 'here already'> {
  await verifyPackage(file);
  const opened = await openPackage(file);
  try {
    const { projectId } = opened.manifest;
    if ((await deps.prisma.project.findUnique({ where: { id: projectId } })) !== null) {
      await sameOrRefused(deps, opened);
      return 'here already';
    }
    const known = await knownIds(opened);
    for (const name of opened.names) {
      if (name.startsWith('files/')) await takeFile(deps.blobs, opened, name);
    }
    await deps.prisma.$transaction(
      async (tx) => {
        for (const table of packedTables) await takeRows(tx, opened, table, known);
        const { broken } = await verifyWithin(tx, projectId);
        if (broken !== null) throw new Broken(broken.table, broken.row, broken.sentence);
      },
      { timeout: LIMIT_MS },
    );
    return 'taken in';
  } finally {
    opened.close();
  }
}

/** Every table, written out as a package would, must have the hash that it has in this one. */
async function sameOrRefused({ databaseUrl }: ImportDeps, opened: Package): Promise<void> {
  const said = new Map(opened.manifest.entries.map(({ name, sha256 }) => [name, sha256]));
  await withRows(databaseUrl, opened.manifest.projectId, async (rows) => {
    for (const table of packedTables) {
      const sum = createHash('sha256');
      for await (const line of asLines(rows.of(table), () => undefined)) sum.update(line);
      if (sum.digest('hex') !== said.get(`records/${table.table}.jsonl`)) {
        throw new ImportRefused(
          `This project is here already, and its ${table.table} rows are others. Nothing was changed.`,
        );
      }
    }
  });
}

async function knownIds(opened: Package): Promise<ReadonlySet<unknown>> {
  const known = new Set<unknown>();
  for (const { table } of packedTables) {
    for await (const row of rowsOf(opened, table)) if (row.id !== undefined) known.add(row.id);
  }
  return known;
}

async function takeFile(blobs: BlobStore, opened: Package, name: string): Promise<void> {
  const received = await blobs.receive(opened.read(name));
  if (!name.startsWith(`files/${received.sha256}.`)) {
    await received.discard();
    throw new Broken('package', name, 'Its bytes are not those that it is named for.');
  }
  await received.commit();
}

/** A row may point at rows of its own package only: it must not hang anything on another project's record. */
function staysWithin(table: string, row: Row, known: ReadonlySet<unknown>): void {
  for (const [column, value] of Object.entries(row)) {
    if (!column.endsWith('_id') || value === null || OWN_NAMES.has(column)) continue;
    breakIf(!known.has(value), table, String(row.id), `Its ${column} points out of the package.`);
  }
}

async function takeRows(
  tx: Transaction,
  opened: Package,
  { table, before = {} }: PackedTable,
  known: ReadonlySet<unknown>,
): Promise<void> {
  let batch: Row[] = [];
  for await (const row of rowsOf(opened, table)) {
    staysWithin(table, row, known);
    if (table === 'person') {
      await takePerson(tx, row);
      continue;
    }
    if (table === 'project') zoneIsKnown(row);
    batch.push({ ...before, ...row });
    if (batch.length < BATCH) continue;
    await insert(tx, table, batch);
    batch = [];
  }
  if (batch.length > 0) await insert(tx, table, batch);
}

/** A zone that no clock here knows would break every page of the project. */
function zoneIsKnown({ id, time_zone: timeZone }: Row): void {
  breakIf(
    timeZone !== undefined && !isTimeZone(timeZone),
    'project',
    String(id),
    'Its time zone is not known here.',
  );
}

/** `table` is one of the list's own names, never the package's. */
async function insert(tx: Transaction, table: string, rows: readonly Row[]): Promise<void> {
  await tx.$executeRawUnsafe(
    `INSERT INTO "${table}" SELECT taken.* FROM json_array_elements($1::json) one,
       json_populate_record(NULL::"${table}", one) taken`,
    JSON.stringify(rows),
  );
}

async function takePerson(tx: Transaction, row: Row): Promise<void> {
  const id = String(row.id);
  const name = String(row.name);
  const there = await tx.person.findUnique({ where: { id }, select: { name: true } });
  if (there === null) {
    await tx.person.create({
      data: { id, name, email: null, passwordHash: NO_PASSWORD, mailChoice: 'none' },
    });
  } else if (there.name !== name) {
    throw new ImportRefused(`The person ${id} is here under another name. Nothing was taken in.`);
  }
}
