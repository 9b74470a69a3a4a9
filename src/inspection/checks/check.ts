import type { VisitKind } from '../../database/generated/client.ts';

/** The visits of a job, in the order in which they usually come. */
export const visitKinds = [
  'shoring',
  'footing',
  'framing',
  'electrical',
  'cover',
  'final',
] as const satisfies readonly VisitKind[];
export type { VisitKind };

export const visitTitles: Readonly<Record<VisitKind, string>> = {
  shoring: 'Shoring, before demolition',
  footing: 'Footings: as found, or before the pour',
  framing: 'Framing, before cover',
  electrical: 'Electrical rough-in of the re-routed circuits',
  cover: 'Cover: insulation and fire-blocking',
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
