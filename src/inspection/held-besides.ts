import { Prisma } from '../database/generated/client.ts';
import type { ItemKind } from '../record/kinds/definition.ts';
import type { KindRegistry } from '../record/kinds/registry.ts';
import type { ProjectViewer } from '../record/read-together.ts';
import { staleOfOpening } from '../record/staleness/store.ts';
import type { Transaction } from '../record/events/append.ts';
import { holdPoints } from './checks/check.ts';
import type { HoldPointState } from './hold-points.ts';

/** Why a step is held although the checks of the list may all have passed. */
export interface HoldReason {
  readonly step: string;
  /** Null where it is for want of an item. */
  readonly itemId: string | null;
  /** 'Left support: version 2 is approved since, and in no set yet' */
  readonly why: string;
  /** The items whose word or newest version is the cause: the item itself, or what it rests on where that moved. */
  readonly causes: readonly string[];
}

/** The steps that wait for an item of this kind; for what a set leaves open, and so has no check that could say it. */
const guardedBy: Readonly<Partial<Record<ItemKind, readonly string[]>>> = {
  shoring: [holdPoints.wallOut],
  footing: [holdPoints.pour, holdPoints.shoringOut],
  beam: [holdPoints.shoringOut],
  support: [holdPoints.shoringOut],
  hanger: [holdPoints.shoringOut],
  fastening: [holdPoints.shoringOut],
};

/** The steps with what holds them besides their checks; a step that no check guards is there, too, and held. Pure. */
export function heldBesides(
  points: readonly HoldPointState[],
  reasons: readonly HoldReason[],
): HoldPointState[] {
  const steps = [...new Set([...points, ...reasons].map(({ step }) => step))];
  return steps.map((step) => {
    const point = points.find((one) => one.step === step) ?? {
      step,
      released: true,
      missing: [],
      undecided: [],
    };
    const besides = reasons.filter((reason) => reason.step === step).map(({ why }) => why);
    return {
      ...point,
      released: point.released && besides.length === 0,
      missing: [...besides, ...point.missing],
    };
  });
}

interface Gap {
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly sentence: string;
}

interface Moved {
  readonly itemId: string;
  readonly title: string;
  readonly number: number;
  readonly steps: readonly string[];
  /** The approval in the set was taken back, for this reason. */
  readonly withdrawn: string | null;
  /** A later version that the engineer approved or made. */
  readonly later: number | null;
}

/** Is the approval with which a set holds a version taken back, or has the engineer's word gone on to a later one? */
export const movedOn = {
  withdrawal: Prisma.sql`
    LEFT JOIN LATERAL (
      SELECT word, reason, at FROM mark WHERE version_id = v.id ORDER BY number DESC LIMIT 1
    ) last ON last.word IN ('withdrawn', 'returned')`,
  later: Prisma.sql`
    LEFT JOIN LATERAL (
      SELECT newer.number, said.at FROM version newer
      JOIN LATERAL (
        SELECT word, at FROM mark WHERE version_id = newer.id ORDER BY number DESC LIMIT 1
      ) said ON said.word IN ('approved', 'revised')
      WHERE newer.item_id = v.item_id AND newer.number > v.number ORDER BY newer.number DESC LIMIT 1
    ) later ON true`,
};

/** The query for the entries of a set whose approval is taken back, or whose item has a later one: `Moved`. */
const movedSince = (setId: string) => Prisma.sql`
  SELECT i.id AS "itemId", i.title, v.number, last.reason AS withdrawn, later.number AS later,
         array(SELECT DISTINCT hold_point FROM "check"
               WHERE set_id = e.set_id AND version_id = v.id AND hold_point <> '') AS steps
  FROM set_entry e JOIN item i ON i.id = e.item_id JOIN version v ON v.id = e.version_id
  ${movedOn.withdrawal} ${movedOn.later}
  WHERE e.set_id = ${setId}::uuid AND (last.word IS NOT NULL OR later.number IS NOT NULL)
  ORDER BY i.kind, list_key(i.key), i.key`;

/**
 * What holds steps of a set besides its checks: that it holds no shoring plan, what it leaves open, approvals taken back, versions approved
 * since that no set holds yet, and items that are out of date. The engineer's word holds from the moment it is said,
 * not from the next set on.
 */
export async function reasonsToHold(
  tx: Pick<Transaction, '$queryRaw'>,
  kinds: KindRegistry,
  set: { readonly projectId: string; readonly openingId: string; readonly setId: string },
  viewer: ProjectViewer = { projectId: set.projectId },
): Promise<HoldReason[]> {
  const { openingId, setId } = set;
  const [frozen] = await tx.$queryRaw<{ gaps: Gap[]; shored: boolean; moved: Moved[] }[]>`
    SELECT content::json -> 'gaps' AS gaps,
           EXISTS (SELECT 1 FROM set_entry e JOIN item i ON i.id = e.item_id
                   WHERE e.set_id = ${setId}::uuid AND i.kind = 'shoring') AS shored,
           (SELECT coalesce(json_agg(one), '[]') FROM (${movedSince(setId)}) one) AS moved
    FROM approved_set WHERE id = ${setId}::uuid`;
  const unshored =
    frozen !== undefined && !frozen.shored && !frozen.gaps.some(({ kind }) => kind === 'shoring');
  const stale = await staleOfOpening(tx as Transaction, kinds, viewer, openingId);
  const entries =
    stale.size === 0
      ? []
      : await tx.$queryRaw<{ itemId: string; title: string; steps: string[] }[]>`
          SELECT i.id AS "itemId", i.title,
                 array(SELECT DISTINCT hold_point FROM "check"
                       WHERE set_id = e.set_id AND version_id = e.version_id AND hold_point <> '') AS steps
          FROM set_entry e JOIN item i ON i.id = e.item_id
          WHERE e.set_id = ${setId}::uuid AND e.item_id = ANY(${[...stale.keys()]}::uuid[])
          ORDER BY i.kind, list_key(i.key), i.key`;
  return [
    // Nobody may take a settled circuit for leave to take a wall out that nothing holds up meanwhile.
    ...(unshored
      ? [{ step: holdPoints.wallOut, itemId: null, why: 'This set holds no shoring plan', causes: [] }]
      : []),
    ...(frozen?.gaps ?? []).flatMap(({ itemId, kind, sentence }) =>
      (guardedBy[kind] ?? []).map((step) => ({
        step,
        itemId,
        why: `Left open by this set: ${sentence}`,
        causes: [itemId],
      })),
    ),
    ...(frozen?.moved ?? []).flatMap((one) =>
      one.steps.map((step) => ({ step, itemId: one.itemId, why: movedWords(one), causes: [one.itemId] })),
    ),
    ...entries.flatMap(({ itemId, title, steps }) => {
      const reasons = stale.get(itemId) ?? [];
      const why = `${title} is out of date: ${reasons[0]?.sentence ?? ''}`;
      return steps.map((step) => ({ step, itemId, why, causes: reasons.map(({ on }) => on.itemId) }));
    }),
  ];
}

function movedWords({ title, number, withdrawn, later }: Moved): string {
  return later === null
    ? `${title}: the approval of version ${number} was taken back: ${withdrawn ?? ''}`
    : `${title}: version ${later} is approved since, and in no set yet`;
}
