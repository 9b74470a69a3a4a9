import type { OpeningLayout } from '../../../engineering/layout/index.ts';
import type { Footing, Hanger, Support } from '../../../engineering/proposal/design.ts';

/** What the elevation and the sections are drawn from: the opening as laid out, and its pieces in words. */
export interface DrawnOpening {
  readonly layout: OpeningLayout;
  readonly footings: readonly Footing[];
  readonly hangers: readonly Hanger[];
  /** For what carries their packs through a framed floor. */
  readonly supports: readonly Support[];
  readonly beamWords: string;
  readonly supportWords: Readonly<Partial<Record<'left' | 'right', string>>>;
  /** Under every view: whose state it is, and that it is no seal. */
  readonly notes: readonly FigureNote[];
}

export interface FigureNote {
  readonly text: string;
  readonly warns?: boolean;
}
