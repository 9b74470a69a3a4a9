import type { BlobStore } from '../attachments/storage/blob-store.ts';
import type { Hub } from '../notify/live/hub.ts';
import type { Sessions } from '../people/sessions/sessions.ts';
import type { KindForms } from '../record/kinds/form.ts';
import type { RecordDeps } from '../record/use-case.ts';
import type { Config } from './config.ts';

/** What routes are built from; made once in `compose.ts`, or by a test. */
export interface Deps extends RecordDeps {
  readonly config: Config;
  readonly sessions: Sessions;
  readonly blobs: BlobStore;
  readonly forms: KindForms;
  /** The open pages of this process. */
  readonly live: Hub;
  /** For readers that need a connection of their own; null where only the client was handed in. */
  readonly databaseUrl: string | null;
}
