import { feetFromInches, formatFeetInches } from '../units/index.ts';
import type { Notice } from '../trace/index.ts';
import {
  ircHeaderSpan,
  ircKingStuds,
  ircSingleHeaderSpan,
  type HeaderAnswer,
  type KingStudWind,
} from '../wood/irc/index.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Support } from './design.ts';
import type { Survey } from './survey.ts';

/**
 * Strength-level pressure on a wall, psf, up to which the table's moderate column is read: components and cladding,
 * 10 ft² in the middle of a wall, 115 mph, exposure B (IRC Table R301.2.1(1), 15.5 psf ÷ 0.6). From memory.
 */
const MODERATE_WIND_PSF = 26;

/** The code's own tables beside what is calculated: jacks and kings of an exterior wall. They decide nothing. */
export function secondOpinions(survey: Survey, criteria: Criteria, beam: Beam, support: Support): Notice[] {
  if (!survey.wallIsExterior || support.kind === 'post') return [];
  const clearIn = survey.openingToIn - survey.openingFromIn;
  return [
    ...kingOpinion(clearIn, criteria, support),
    ...jackOpinion(clearIn, survey, criteria, beam, support),
  ];
}

function kingOpinion(clearIn: number, criteria: Criteria, support: Support): Notice[] {
  const wind: KingStudWind =
    criteria.windWallPsf > MODERATE_WIND_PSF
      ? 'under 140 mph exposure B or under 130 exposure C'
      : 'up to 115 mph, exposure B';
  const answer = ircKingStuds(feetFromInches(clearIn), wind, criteria.editions.irc);
  if (answer === undefined) return [];
  const { kingStuds, clause } = answer;
  return [
    {
      id: 'kings.table',
      severity: support.kings < kingStuds ? 'caution' : 'note',
      text: `The code’s own table would have ${counted(kingStuds, 'full-height stud')} beside an opening this wide (${wind}); ${support.kings} ${support.kings === 1 ? 'is' : 'are'} proposed.`,
      clause,
    },
  ];
}

function jackOpinion(
  clearIn: number,
  survey: Survey,
  criteria: Criteria,
  beam: Beam,
  support: Support,
): Notice[] {
  const answer = headerAnswer(survey, criteria, beam);
  if (answer === undefined) return [];
  const { spanIn, jackStuds, clause, note } = answer;
  const reaches = clearIn <= spanIn;
  const span = `The code’s own header table takes this header to ${formatFeetInches(spanIn, { to: 2 })} with ${counted(jackStuds, 'jack')} at each end`;
  const here = reaches
    ? `${counted(support.jacks, 'jack')} ${support.jacks === 1 ? 'is' : 'are'} proposed`
    : `the opening is ${formatFeetInches(clearIn, { to: 16 })} wide`;
  return [
    {
      id: 'jacks.table',
      severity: !reaches || support.jacks < jackStuds ? 'caution' : 'note',
      text: `${span}; ${here}. ${note}`,
      clause,
    },
  ];
}

/** The table holds headers of 2x lumber under a roof and a ceiling, nothing else on them. */
function headerAnswer(survey: Survey, criteria: Criteria, beam: Beam): HeaderAnswer | undefined {
  const { roof, strips, wallsAbove, braces, landings } = survey;
  const { member } = beam;
  if (member.kind !== 'sawn' || !member.size.startsWith('2x') || roof === undefined) return undefined;
  const onlyRoofAndCeiling =
    strips.some((strip) => strip.carries === 'roof') &&
    strips.every((strip) => strip.carries !== 'floor') &&
    wallsAbove.length + braces.length + landings.length === 0;
  if (!onlyRoofAndCeiling) return undefined;
  const question = {
    size: `${member.plies}-${member.size}`,
    buildingWidthFt: feetFromInches(roof.frontEaveToRidgeIn + roof.rearEaveToRidgeIn),
    groundSnowPsf: criteria.groundSnowPsf,
  };
  const { irc } = criteria.editions;
  if (member.plies > 1) return ircHeaderSpan({ ...question, supporting: 'roof and ceiling' }, irc);
  if (member.species === 'HF') return undefined;
  return ircSingleHeaderSpan({ ...question, species: member.species === 'SPF' ? 'SPF' : 'DF-L or SP' }, irc);
}

function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}
