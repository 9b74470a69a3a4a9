import type { PrismaClient } from '../../../src/database/generated/client.ts';

/** What a write is found by: something that the sender made up, and that no other write has. */
export const writes = {
  photo: 'SELECT sha256 AS key, count(*)::int AS times FROM attachment WHERE sha256 = ANY($1) GROUP BY 1',
  'photo in pieces': `SELECT a.sha256 AS key, count(*)::int AS times FROM attachment a WHERE a.sha256 = ANY($1) GROUP BY 1`,
  mark: 'SELECT reason AS key, count(*)::int AS times FROM mark WHERE reason = ANY($1) GROUP BY 1',
  version: 'SELECT reason AS key, count(*)::int AS times FROM version WHERE reason = ANY($1) GROUP BY 1',
  set: 'SELECT note AS key, count(*)::int AS times FROM approved_set WHERE note = ANY($1) GROUP BY 1',
  'phone finding': `SELECT id::text AS key, count(*)::int AS times FROM phone_finding WHERE id::text = ANY($1) GROUP BY 1`,
  'phone photo': `SELECT p.photo_id::text AS key, count(*)::int AS times FROM phone_photo_arrival p
    JOIN attachment a ON a.id = p.attachment_id WHERE p.photo_id::text = ANY($1) GROUP BY 1`,
} as const;
export type Write = keyof typeof writes;

interface Entry {
  readonly what: Write;
  readonly key: string;
  acknowledged: boolean;
  /** How often it was found there, last time. */
  times: number;
}

export interface LostOrDoubled {
  readonly what: string;
  readonly key: string;
  readonly sentence: string;
}

/** Every write that was tried, and whether the service said that it is kept. */
export interface Ledger {
  try: (what: Write, key: string) => void;
  acknowledge: (what: Write, key: string) => void;
  /** A draft is written over: what counts is the last one that was acknowledged, or one tried after it. */
  tryDraft: (text: string) => void;
  acknowledgeDraft: (text: string) => void;
  /** Holds all entries, or those since the last time, against the database. */
  check: (prisma: PrismaClient, all: boolean, draftOf: { itemId: string }) => Promise<LostOrDoubled[]>;
  counts: () => Record<string, { acknowledged: number; unknownKept: number; unknownNotKept: number }>;
}

export function openLedger(): Ledger {
  const entries = new Map<string, Entry>();
  let fresh = new Set<Entry>();
  let draft: string | null = null;
  let draftsSince: string[] = [];
  let drafts = 0;
  const nameOf = (what: Write, key: string) => `${what} ${key}`;

  return {
    try(what, key) {
      const entry = entries.get(nameOf(what, key)) ?? { what, key, acknowledged: false, times: 0 };
      entries.set(nameOf(what, key), entry);
      fresh.add(entry);
    },
    acknowledge(what, key) {
      const entry = entries.get(nameOf(what, key));
      if (entry === undefined) throw new Error(`${what} ${key} was never tried`);
      entry.acknowledged = true;
      fresh.add(entry);
    },
    tryDraft: (text) => draftsSince.push(text),
    acknowledgeDraft(text) {
      draft = text;
      drafts += 1;
      draftsSince = draftsSince.slice(draftsSince.indexOf(text) + 1);
    },
    async check(prisma, all, { itemId }) {
      const found: LostOrDoubled[] = [];
      const looked = all ? [...entries.values()] : [...fresh];
      for (const [what, sql] of Object.entries(writes)) {
        const own = looked.filter((entry) => entry.what === what);
        if (own.length === 0) continue;
        const rows = await prisma.$queryRawUnsafe<{ key: string; times: number }[]>(
          sql,
          own.map(({ key }) => key),
        );
        const times = new Map(rows.map((row) => [row.key, row.times]));
        for (const entry of own) {
          entry.times = times.get(entry.key) ?? 0;
          if (entry.times === 1 || (entry.times === 0 && !entry.acknowledged)) continue;
          const sentence =
            entry.times === 0 ? 'was acknowledged and is lost' : `is there ${entry.times} times`;
          found.push({ what, key: entry.key, sentence });
        }
      }
      fresh = new Set();
      if (draft !== null) {
        const row = await prisma.draft.findFirst({ where: { itemId }, select: { body: true } });
        const text = row?.body ?? '';
        if (![draft, ...draftsSince].some((one) => text.includes(one))) {
          found.push({
            what: 'draft',
            key: draft,
            sentence: `was acknowledged and is lost; there is “${text}”`,
          });
        }
      }
      return found;
    },
    counts() {
      const all = [...entries.values()];
      const kinds = Object.keys(writes).map((what) => {
        const own = all.filter((entry) => entry.what === what);
        const unknown = own.filter((entry) => !entry.acknowledged);
        return [
          what,
          {
            acknowledged: own.length - unknown.length,
            unknownKept: unknown.filter(({ times }) => times > 0).length,
            unknownNotKept: unknown.filter(({ times }) => times === 0).length,
          },
        ] as const;
      });
      return {
        ...Object.fromEntries(kinds),
        draft: { acknowledged: drafts, unknownKept: 0, unknownNotKept: 0 },
      };
    },
  };
}
