import type { VisitKind } from '../../database/generated/client.ts';

/** The visits of a job, in the order in which they usually come. */
export const visitKinds = [
  'shoring',
  'footing',
  'framing',
  'electrical',
  'cover',
  'local',
  'final',
] as const satisfies readonly VisitKind[];
export type { VisitKind };

export const visitTitles: Readonly<Record<VisitKind, string>> = {
  shoring: 'Shoring, before demolition',
  footing: 'Footings: as found, or before the pour',
  framing: 'Framing, before cover',
  electrical: 'Electrical rough-in of the re-routed circuits',
  cover: 'Cover: insulation and fire-blocking',
  local: 'Local inspection',
  final: 'Final',
};

/** Steps that may not start before named checks pass. */
export const holdPoints = {
  wallOut: 'take the wall out',
  pour: 'pour the footing',
  shoringOut: 'take the shoring out',
  cover: 'cover the framing',
} as const;

/** One thing to look at, made from an approved version: the criterion says the numbers of its content. */
export interface CheckRule {
  /** Tells the checks of one item apart: 'size', 'bearing-left'. */
  readonly rule: string;
  readonly visitKind: VisitKind;
  readonly title: string;
  readonly criterion: string;
  readonly clause: string;
  readonly howToLook: string;
  readonly photoRequired: boolean;
  readonly holdPoint: string;
}

/** A check that comes from something without approved versions: a local requirement, a circuit in the wall. */
export interface ExtraCheck extends CheckRule {
  /** Where it comes from, as said on the list: 'local requirement', 'circuit 9'. */
  readonly source: string;
  /** Stable while it means the same thing: 'circuit:9:splices'. */
  readonly stem: string;
  /** The added visit it belongs to; '' for the usual ones. */
  readonly localVisit: string;
}
