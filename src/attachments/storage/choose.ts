import path from 'node:path';
import type { BlobStore } from './blob-store.ts';
import { createDiskStore } from './disk-store.ts';
import { createObjectStore, type ObjectStoreSettings } from './object-store.ts';

/** The object store where the environment names one, else a folder under DATA_DIR. */
export function createBlobStore(config: {
  readonly dataFolder: string;
  readonly objectStore: ObjectStoreSettings | null;
}): BlobStore {
  if (config.objectStore !== null) return createObjectStore(config.objectStore);
  return createDiskStore(path.resolve(config.dataFolder, 'files'));
}
