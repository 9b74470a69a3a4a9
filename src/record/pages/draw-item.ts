import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import { layOutOpening } from '../../engineering/layout/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Hanger, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import type { Check } from '../../engineering/trace/index.ts';
import {
  beamPictures,
  footingPictures,
  hangerPictures,
  layoutPicture,
  nailingPicture,
  surveyPicture,
  type Picture,
} from '../../report/pictures/index.ts';
import type { Calculation } from '../calculation.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { fastenerWords } from '../kinds/fastening/kind.ts';
import { hangerNailWords } from '../kinds/hanger/kind.ts';
import { packWords } from '../kinds/support/kind.ts';

/** What an item of one kind is drawn from: its content, the contents that it rests on, what was calculated of it. */
export interface Drawn {
  readonly content: unknown;
  readonly grounds: readonly DrawnGround[];
  readonly checks: readonly Check[];
  /** Begins the ids of the drawings. */
  readonly idPrefix: string;
}

export interface DrawnGround {
  readonly kind: ItemKind;
  readonly content: unknown;
}

interface DrawnKind {
  /** What it is drawn from besides itself, of all that it rests on. */
  readonly grounds: readonly ItemKind[];
  /** The checks that its drawings show a figure of, by the ends of their ids; left out: none. */
  readonly shows?: readonly string[];
  /** @throws Refusal for what can't be drawn */
  readonly draw: (drawn: Drawn) => readonly Picture[];
}

// Each kind's schema judged its contents before they were saved.
function ground({ grounds }: Drawn, kind: ItemKind): unknown {
  return grounds.find((one) => one.kind === kind)?.content;
}

/** Kinds that have something to draw. */
export const drawnKinds: Readonly<Partial<Record<ItemKind, DrawnKind>>> = {
  survey: {
    grounds: ['criteria'],
    draw(drawn) {
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      if (criteria === undefined) return [];
      return [surveyPicture(`${drawn.idPrefix}survey`, drawn.content as Survey, criteria)];
    },
  },
  beam: {
    grounds: ['survey', 'criteria'],
    draw(drawn) {
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      const survey = ground(drawn, 'survey') as Survey | undefined;
      if (criteria === undefined || survey === undefined) return [];
      const beam = drawn.content as Beam;
      return beamPictures(`${drawn.idPrefix}beam`, { survey, criteria, beam, supports: [], footings: [] });
    },
  },
  support: {
    grounds: ['survey', 'criteria', 'beam'],
    draw(drawn) {
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      const survey = ground(drawn, 'survey') as Survey | undefined;
      const beam = ground(drawn, 'beam') as Beam | undefined;
      if (criteria === undefined || survey === undefined || beam === undefined) return [];
      const supports = [drawn.content as Support];
      const { editions } = criteria;
      return [
        layoutPicture(
          `${drawn.idPrefix}layout`,
          layOutOpening({ survey, beam, supports, footings: [], editions }),
        ),
      ];
    },
  },
  footing: {
    grounds: ['criteria', 'beam', 'support'],
    shows: ['.soil'],
    draw(drawn) {
      const footing = drawn.content as Footing;
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      const beam = ground(drawn, 'beam') as Beam | undefined;
      // On the page of a form there are the packs of both ends.
      const support = drawn.grounds
        .filter(({ kind }) => kind === 'support')
        .map(({ content }) => content as Support)
        .find(({ end }) => end === footing.end);
      if (criteria === undefined || beam === undefined || support === undefined) return [];
      const [soil] = drawn.checks;
      return footingPictures(`${drawn.idPrefix}footing`, {
        footing,
        support,
        packWords: packWords(support),
        beam,
        editions: criteria.editions,
        ...(soil === undefined ? {} : { soil }),
      });
    },
  },
  hanger: {
    grounds: ['criteria', 'beam'],
    shows: ['.down'],
    draw(drawn) {
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      const beam = ground(drawn, 'beam') as Beam | undefined;
      if (criteria === undefined || beam === undefined) return [];
      const hanger = drawn.content as Hanger;
      const [load] = drawn.checks;
      return hangerPictures(`${drawn.idPrefix}hanger`, {
        hanger,
        beam,
        nailWords: hangerNailWords(hanger),
        editions: criteria.editions,
        ...(load === undefined ? {} : { load }),
      });
    },
  },
  fastening: {
    grounds: ['criteria'],
    draw(drawn) {
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      if (criteria === undefined) return [];
      const row = drawn.content as FasteningRow;
      return [nailingPicture(`${drawn.idPrefix}row`, row, criteria.editions, fastenerWords(row))];
    },
  },
};

/** Those of the checks that a kind's drawings show figures of. */
export function shownChecks({ shows = [] }: DrawnKind, calculation: Calculation | null): readonly Check[] {
  return (calculation?.checks ?? []).filter(({ id }) => shows.some((end) => id.endsWith(end)));
}
