/** What may go wrong around the service, and the tests that make it go wrong. `table.unit.test.ts` holds it to them. */
export interface Fault {
  readonly fault: string;
  /** What must come of it. */
  readonly then: string;
  readonly tests: readonly { readonly file: string; readonly name: string }[];
}

const at = (file: string, ...names: string[]) => names.map((name) => ({ file, name }));

export const faults: readonly Fault[] = [
  {
    fault:
      'kill -9 of the service during uploads, words, versions, sets, findings of phones, drafts, letters and calls',
    then: 'nothing acknowledged is lost or doubled, nothing is there by half, the chain and every file verify',
    tests: [
      ...at(
        'tests/faults/kill.http.test.ts',
        'loses nothing that it acknowledged and leaves no half, wherever it is killed',
      ),
      ...at(
        'tests/web/several-processes.http.test.ts',
        'the job goes on, a request here and the next there, while one is killed',
      ),
      ...at(
        'tests/notify/work.db.test.ts',
        'one killed before anything left it: another sends it, once',
        'one killed after the server took it and before its answer: unsure, shown to the operator, sent again only by hand',
      ),
      ...at(
        'tests/attachments/resumable.http.test.ts',
        'is one file where two processes finish it at the same time',
      ),
    ],
  },
  {
    fault: 'PostgreSQL stopped and started again under load',
    then: '503 and when to come back, in words and as problem details; pages, writes, open pages, letters and calls work again by themselves',
    tests: [
      ...at(
        'tests/faults/database-restarted.http.test.ts',
        'says so meanwhile, loses nothing, and everything works again without a restart of the service',
      ),
      ...at('tests/notify/live.http.test.ts', 'is told again after the database connection broke'),
    ],
  },
  {
    fault: 'the disk of PostgreSQL is full (SQLSTATE 53100)',
    then: '507 with a sentence, no half, reading goes on',
    tests: at(
      'tests/faults/database-full.http.test.ts',
      'says that there is no room, keeps nothing by half and goes on being read (%s)',
      'is told to programs as what it is',
    ),
  },
  {
    fault: 'the disk of the file store is full',
    then: '507 with a sentence, no row, the half-written file is taken away',
    tests: [
      ...at(
        'tests/attachments/storage-full.http.test.ts',
        'answers 507 where the store takes nothing more, and keeps no row',
        'keeps no row where the bytes cannot be moved to their place',
        'says so and takes the half-written file away',
      ),
      ...at('tests/attachments/storage/object-store.unit.test.ts', 'says that the store is full'),
    ],
  },
  {
    fault: 'the sender of a file goes away',
    then: 'nothing is left behind, and an upload in pieces goes on from there',
    tests: [
      ...at(
        'tests/attachments/connections.http.test.ts',
        'leaves nothing behind when the sender goes away in the middle',
      ),
      ...at('tests/attachments/resumable.http.test.ts', 'goes on where the connection dropped'),
    ],
  },
  {
    fault: 'the mail server is down, silent, refuses, or takes a letter and never answers',
    then: 'letters wait and are tried again, or are given up with the reason; none is sent twice by itself',
    tests: at(
      'tests/notify/sending.db.test.ts',
      'waits where nobody listens',
      'waits where the server accepts the connection and says nothing',
      'is given up where the server refuses it for good, and says why',
      'is unsure, and not sent again by itself, where the server takes it and never answers',
    ),
  },
  {
    fault: 'the S3 store is slow, fails, is not there, or breaks off in the middle',
    then: 'tried again within bounds, then 503 and when to come back; pages without files work; a broken line is no damaged file',
    tests: [
      ...at(
        'tests/attachments/storage/object-store.unit.test.ts',
        'tries again after a moment’s trouble',
        'says that the store does not answer, and gives its parts up',
        'does not wait forever for a store that is silent',
        'reaches nobody where nobody listens',
      ),
      ...at(
        'tests/faults/store-away.http.test.ts',
        'says that files can’t be reached, when to come back, and shows pages all the same',
        'does not take a store that breaks off in the middle for a damaged file, nor half a file for a whole one',
      ),
    ],
  },
  {
    fault: 'the clock is set back',
    then: 'the log goes forward, nobody is signed out or kept waiting, what expires expires',
    tests: [
      ...at(
        'tests/record/events/append.db.test.ts',
        'a clock that was set back does not make the log run backwards',
      ),
      ...at(
        'tests/faults/clock-back.http.test.ts',
        'nobody is signed out by it, and a session still ends',
        'what is recorded then comes after what was recorded before',
        'a pause for guessing a password is no longer than the longest',
        'the limit of requests goes by a clock that only goes forward',
        'a link ends when it was to end',
      ),
    ],
  },
  {
    fault: 'two migrations, or two first starts, at once',
    then: 'both end well, each migration is applied once',
    tests: [
      ...at(
        'tests/database/migrate.db.test.ts',
        'several processes at once: each migration is applied by exactly one',
      ),
      ...at(
        'tests/notify/start-together.db.test.ts',
        'eight sets of workers that start at once on a new database all come up',
      ),
    ],
  },
  {
    fault: 'the machine is lost, and there is a backup',
    then: 'a new installation is the same record by every hash, and goes on',
    tests: [
      ...at(
        'tests/scripts/dump.db.test.ts',
        'are the same record: every hash holds, and work goes on',
        'a store that lost a byte is found',
      ),
      ...at(
        'tests/scripts/backup.db.test.ts',
        'a copied data folder is the same installation: it serves, and every hash holds',
      ),
    ],
  },
];
