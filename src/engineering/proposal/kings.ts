import { makeCheck, qty, type Check, type Notice } from '../trace/index.ts';
import { feetFromInches } from '../units/index.ts';
import {
  checkLateralDeflection,
  checkWoodColumn,
  lateralLoadLbPerIn,
  lateralMomentLbIn,
  woodMember,
} from '../wood/index.ts';
import { ircKingStuds } from '../wood/irc/index.ts';
import type { Criteria } from './criteria.ts';
import type { Support } from './design.ts';
import type { Survey } from './survey.ts';

/** The stud next to the kings carries the other half of the space between. Common practice: 16 in. */
const NEXT_STUD_IN = 16;
/** ASCE 7 2.4.1, combinations 5 and 6: wind enters at 0.6, with other loads that pass at 0.75 of that. */
const WIND_ALONE = 0.6;
const WIND_CD = 1.6;
/** IRC Table R301.7: exterior walls with flexible finishes. From memory. */
const WALL_DEFLECTION_RATIO = 240;

/**
 * Wind on the kings at service level, 0.6 W, on half the opening and half the space to the next stud, lb per inch of
 * height; zero where the wall is interior or the criteria give no wind on walls.
 */
export function kingWindLbPerIn(survey: Survey, criteria: Criteria): number {
  if (!survey.wallIsExterior) return 0;
  return lateralLoadLbPerIn(criteria.windWallPsf * WIND_ALONE, kingTributaryIn(survey));
}

function kingTributaryIn(survey: Survey): number {
  return (survey.openingToIn - survey.openingFromIn) / 2 + NEXT_STUD_IN / 2;
}

export interface KingResult {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
}

/**
 * The full-height studs beside an opening in an exterior wall: wind on half the opening and half the space to the
 * next stud bends them between floor and ceiling (NDS 3.9, sideways deflection); the roof and floor loads go down the
 * jacks. Without wind in the criteria there is nothing to check, and the table of the code is named.
 */
export function judgeKings(survey: Survey, criteria: Criteria, support: Support): KingResult {
  if (!survey.wallIsExterior) return { checks: [], notices: [] };
  const clearIn = survey.openingToIn - survey.openingFromIn;
  const notices = secondOpinion(clearIn, criteria, support);
  if (support.kings === 0) {
    return {
      checks: [
        makeCheck({
          id: 'kings.there',
          title: 'Kings beside the opening',
          clause: { standard: 'IRC', edition: criteria.editions.irc, section: 'R602.7.5' },
          demand: qty(1, 'each'),
          capacity: qty(0, 'each'),
          sentence: () => 'The wall is exterior: full-height kings must take the wind beside the opening.',
        }),
      ],
      notices,
    };
  }
  if (criteria.windWallPsf === 0) {
    return {
      checks: [],
      notices: [
        ...notices,
        {
          id: 'kings.no-wind',
          severity: 'caution',
          text: 'The wall is exterior and the criteria give no wind on walls: the kings are not calculated.',
        },
      ],
    };
  }
  const edition = criteria.editions.nds;
  const member = woodMember(
    {
      kind: 'sawn',
      species: support.species,
      grade: support.grade,
      size: support.size,
      plies: support.kings,
    },
    edition,
    'kings',
  );
  const heightIn = survey.wallHeightIn;
  const loadLbPerIn = kingWindLbPerIn(survey, criteria);
  const step = {
    id: 'kings.wind',
    title: 'Wind on the kings at service level',
    clause: { standard: 'ASCE 7', edition: criteria.editions.asce7, section: '2.4.1' } as const,
    formula: 'w = f · p · b',
    values: {
      f: qty(WIND_ALONE),
      p: qty(criteria.windWallPsf, 'psf'),
      b: qty(feetFromInches(kingTributaryIn(survey)), 'ft'),
    },
    result: qty(loadLbPerIn * 12, 'plf'),
    note: 'Half the opening and half the space to the next stud.',
  };
  const bending = checkWoodColumn({
    id: 'kings',
    edition,
    member,
    // Side by side and bent about the strong axis, each king carries its share: no fastening is counted on.
    fastening: support.kings === 1 ? 'solid' : 'not qualifying',
    heightIn,
    weakUnbracedIn: support.bracedWeakAxisIn ?? heightIn,
    edgeUnbracedIn: support.bracedWeakAxisIn ?? heightIn,
    combinations: [
      {
        name: 'D + 0.6W',
        loadDuration: WIND_CD,
        axialLb: 0,
        strongMomentLbIn: lateralMomentLbIn(loadLbPerIn, heightIn),
      },
    ],
  }).filter((check) => check.id !== 'kings.axial');
  const checks = bending.map((check) =>
    check.id === 'kings.combined' ? { ...check, steps: [step, ...check.steps] } : check,
  );
  return {
    checks: [
      ...checks,
      checkLateralDeflection({
        id: 'kings.sideways',
        edition,
        member,
        loadLbPerIn,
        heightIn,
        ratio: WALL_DEFLECTION_RATIO,
        governing: '0.6W',
      }),
    ],
    notices,
  };
}

function secondOpinion(clearIn: number, criteria: Criteria, support: Support): Notice[] {
  const answer = ircKingStuds(feetFromInches(clearIn), 'up to 115 mph, exposure B', criteria.editions.irc);
  if (answer === undefined) return [];
  const { kingStuds, clause } = answer;
  return [
    {
      id: 'kings.table',
      severity: support.kings < kingStuds ? 'caution' : 'note',
      text: `The code’s own table would have ${kingStuds} full-height ${kingStuds === 1 ? 'stud' : 'studs'} beside an opening this wide; ${support.kings} ${support.kings === 1 ? 'is' : 'are'} proposed.`,
      clause,
    },
  ];
}
