import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import type { Transaction } from '../events/append.ts';
import { standingsOfOpening } from '../items/standings.ts';
import type { ItemStanding } from '../items/state.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import { findOpening } from '../openings/find.ts';
import type { ProjectViewer } from '../read-together.ts';
import { versionsById, type VersionRecord } from '../versions/store.ts';

export interface OpeningHead {
  readonly openingId: string;
  readonly ordinal: number;
  readonly name: string;
}

/** @throws NotFound for an opening of another project. */
export async function openingHead(
  tx: Transaction,
  viewer: ProjectViewer,
  openingId: string,
): Promise<OpeningHead> {
  const { ordinal, name } = await findOpening(tx, viewer, openingId);
  return { openingId, ordinal, name };
}

/** A row of the schedule with its newest version. */
export interface RowThere {
  readonly itemId: string;
  readonly key: string;
  readonly title: string;
  readonly number: number;
  readonly row: FasteningRow;
  readonly standing: ItemStanding;
  readonly version: VersionRecord;
}

/** The rows of an opening, newest versions, in the order of their marks; rows without a version are left out. */
export async function rowsThere(
  tx: Transaction,
  kinds: KindRegistry,
  projectId: string,
  openingId: string,
): Promise<RowThere[]> {
  const standings = (await standingsOfOpening(tx, kinds, { projectId }, openingId)).filter(
    ({ facts }) => facts.kind === 'fastening' && facts.newest !== null,
  );
  const versions = await versionsById(
    tx,
    projectId,
    standings.flatMap(({ facts }) => facts.newest?.versionId ?? []),
  );
  return standings.flatMap((standing) => {
    const { itemId, key, title } = standing.facts;
    const version = versions.find((one) => one.itemId === itemId);
    if (version === undefined) return [];
    // The kind's schema judged it before it was saved.
    const row = version.content as FasteningRow;
    return [{ itemId, key, title, number: version.number, row, standing, version }];
  });
}
