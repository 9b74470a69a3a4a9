import { makeCheck, qty, type Check, type Editions } from '../../trace/index.ts';
import { declaredClause, ircClause } from '../clauses.ts';
import { dowelProperties, fastenerLabel } from '../dowels/fastener.ts';
import type { Findings } from './judgement.ts';
import { totalCount } from './placement.ts';
import type { FasteningRow, Listing } from './row.ts';

function forcesOf(row: FasteningRow): { downLb: number; upLb: number } {
  if (row.demand.per === 'connector') return { downLb: row.demand.downLb, upLb: row.demand.upLb };
  if (row.demand.per === 'joint') return { downLb: row.demand.lateralLb, upLb: row.demand.withdrawalLb };
  return { downLb: 0, upLb: 0 };
}

function nailChecks(row: FasteningRow, listing: Listing): readonly Check[] {
  const clause = declaredClause(listing.report);
  const { diameterIn, lengthIn } = dowelProperties(row.fastener);
  const label = fastenerLabel(row.fastener);
  const leastLengthIn = listing.shortNailsAllowed
    ? Math.min(1.5, listing.nailLengthIn)
    : listing.nailLengthIn;
  const count = totalCount(row);
  return [
    makeCheck({
      id: `${row.id}.nail-count`,
      title: 'Nails that the listing requires',
      clause,
      demand: qty(listing.nailsRequired, 'each'),
      capacity: qty(count, 'each'),
      sentence: (passes) =>
        passes
          ? `${count} nails for the ${listing.nailsRequired} that the listing requires.`
          : `Every hole counts: the listing requires ${listing.nailsRequired} nails, the row has ${count}.`,
    }),
    makeCheck({
      id: `${row.id}.nail-diameter`,
      title: 'Nail diameter that the listing requires',
      clause,
      demand: qty(listing.nailDiameterIn, 'in'),
      capacity: qty(diameterIn, 'in'),
    }),
    makeCheck({
      id: `${row.id}.nail-length`,
      title: 'Nail length that the listing requires',
      clause,
      demand: qty(leastLengthIn, 'in'),
      capacity: qty(lengthIn, 'in'),
      sentence: (passes) =>
        passes
          ? `The ${label} is long enough for the listing.`
          : `The listing does not allow short nails here: ${listing.nailLengthIn} in is required, the ${label} is too short.`,
    }),
  ];
}

/** A hanger, cap or strap by its listing. Without a listing there is a demand and no capacity: it fails. */
export function judgeListing(row: FasteningRow, editions: Editions): Findings {
  const { downLb, upLb } = forcesOf(row);
  const listing = row.basis.kind === 'listing' ? row.basis.listing : undefined;
  const clause =
    listing === undefined ? ircClause(editions, 'R502.6.2, R104.11') : declaredClause(listing.report);
  const missing = 'Enter the listing (report, load down and up, nails) of the connector that will be used.';
  const sides: readonly { id: string; title: string; demandLb: number; capacityLb: number }[] = [
    { id: 'down', title: 'Load down', demandLb: downLb, capacityLb: listing?.downLb ?? 0 },
    { id: 'up', title: 'Uplift', demandLb: upLb, capacityLb: listing?.upLb ?? 0 },
  ];
  const checks: Check[] = sides
    .filter((side) => side.demandLb > 0)
    .map((side) =>
      makeCheck({
        id: `${row.id}.${side.id}`,
        title: side.title,
        clause,
        demand: qty(side.demandLb, 'lb'),
        capacity: qty(side.capacityLb, 'lb'),
        governing: row.demand.combination,
        ...(listing === undefined
          ? { sentence: () => `${side.title} ${Math.round(side.demandLb)} lb: ${missing}` }
          : {}),
      }),
    );
  const [down, up] = sides;
  const shown = downLb >= upLb ? down : up;
  if (listing !== undefined) checks.push(...nailChecks(row, listing));
  return {
    demand: qty(shown?.demandLb ?? 0, 'lb'),
    capacity: qty(shown?.capacityLb ?? 0, 'lb'),
    checks,
    advice: [],
    notices:
      listing === undefined
        ? [{ id: `${row.id}.listing`, severity: 'caution', text: missing }]
        : [
            {
              id: `${row.id}.listing`,
              severity: 'note',
              text: `Values as typed in from ${listing.report}; the report's own limits on lumber, duration and seating go with them.`,
            },
          ],
  };
}
