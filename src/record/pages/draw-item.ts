import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import { layOutOpening } from '../../engineering/layout/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Hanger, Shoring, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import type { Check } from '../../engineering/trace/index.ts';
import {
  beamPictures,
  footingPictures,
  hangerPictures,
  layoutPicture,
  nailingPicture,
  shoringPictures,
  surveyPicture,
  type Picture,
} from '../../report/pictures/index.ts';
import type { Calculation, OutputValue } from '../calculation.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { fastenerWords } from '../kinds/fastening/kind.ts';
import { hangerNailWords } from '../kinds/hanger/kind.ts';
import { packWords } from '../kinds/support/kind.ts';

/** What an item of one kind is drawn from: its content, the contents that it rests on, what was calculated of it. */
export interface Drawn {
  readonly content: unknown;
  readonly grounds: readonly DrawnGround[];
  readonly figures: ShownFigures;
  /** Begins the ids of the drawings. */
  readonly idPrefix: string;
}

export interface DrawnGround {
  readonly kind: ItemKind;
  readonly content: unknown;
}

/** Of a calculation what drawings show. */
export interface ShownFigures {
  readonly checks: readonly Check[];
  readonly outputs: Readonly<Record<string, OutputValue>>;
}

interface DrawnKind {
  /** What it is drawn from besides itself, of all that it rests on. */
  readonly grounds: readonly ItemKind[];
  /** The check that its drawings show figures of, by the end of its id; left out: none. */
  readonly showsCheck?: string;
  /** The outputs that they show, by the beginning of their names; left out: none. */
  readonly showsOutputs?: string;
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
    showsCheck: '.soil',
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
      const [soil] = drawn.figures.checks;
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
    showsCheck: '.down',
    draw(drawn) {
      const criteria = ground(drawn, 'criteria') as Criteria | undefined;
      const beam = ground(drawn, 'beam') as Beam | undefined;
      if (criteria === undefined || beam === undefined) return [];
      const hanger = drawn.content as Hanger;
      const [load] = drawn.figures.checks;
      return hangerPictures(`${drawn.idPrefix}hanger`, {
        hanger,
        beam,
        nailWords: hangerNailWords(hanger),
        editions: criteria.editions,
        ...(load === undefined ? {} : { load }),
      });
    },
  },
  shoring: {
    grounds: ['survey', 'beam'],
    showsCheck: '.sole.soil',
    showsOutputs: 'load of one stud',
    draw(drawn) {
      const survey = ground(drawn, 'survey') as Survey | undefined;
      const beam = ground(drawn, 'beam') as Beam | undefined;
      if (survey === undefined) return [];
      const shoring = drawn.content as Shoring;
      const { checks, outputs } = drawn.figures;
      const sides = (['front', 'rear'] as const).filter((side) => [side, 'both'].includes(shoring.sides));
      // The calculation counts its walls in this order.
      const loads = sides.flatMap((side, index) => {
        const load = outputs[`load of one stud, wall ${index + 1}`];
        return typeof load === 'object' ? [[side, load] as const] : [];
      });
      const soil = sides.flatMap((side) =>
        checks.filter(({ id }) => id === `shoring.${side}.sole.soil`).map((check) => [side, check] as const),
      );
      return shoringPictures(`${drawn.idPrefix}shoring`, {
        shoring,
        survey,
        ...(beam === undefined ? {} : { beam }),
        loads: Object.fromEntries(loads),
        soil: Object.fromEntries(soil),
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

/** Those figures of a calculation that a kind's drawings show. */
export function shownFigures(
  { showsCheck, showsOutputs }: DrawnKind,
  calculation: Calculation | null,
): ShownFigures {
  const { checks = [], outputs = {} } = calculation ?? {};
  return {
    checks: showsCheck === undefined ? [] : checks.filter(({ id }) => id.endsWith(showsCheck)),
    outputs: Object.fromEntries(
      Object.entries(outputs).filter(([name]) => showsOutputs !== undefined && name.startsWith(showsOutputs)),
    ),
  };
}
