import type { Criteria } from '../../proposal/criteria.ts';
import type { Survey } from '../../proposal/survey.ts';
import { Refusal, refuseUnless } from '../../trace/refusal.ts';
import type { Notice } from '../../trace/step.ts';
import { snowClause } from '../snow/flat-roof.ts';
import { SNOW_CASES, type Load, type SnowCase } from '../load.ts';
import { braceTakeOff, type BraceTakeOff } from './brace-loads.ts';
import { braceRuleNotices } from './brace-rules.ts';
import { landingLoads, wallAboveLoad } from './standing-loads.ts';
import { stripTakeOff, type JoistsAtBeam, type StripTakeOff } from './strip-loads.ts';

/** Everything that comes down on the wall, in wall coordinates, kinds kept apart. */
export interface LoadTakeOff {
  readonly loads: readonly Load[];
  readonly strips: readonly StripTakeOff[];
  readonly braces: readonly BraceTakeOff[];
  readonly notices: readonly Notice[];
}

export interface TakeOffOptions {
  /** `cut` where a flush beam cuts floor and ceiling joists; rafters and dropped beams leave them whole. */
  readonly joistsAtBeam: JoistsAtBeam;
}

/**
 * Load take-off of one opening from its survey: strips, walls above, roof braces, landings. The beam's own weight
 * is added later (`selfWeight`), because it belongs to the member that is tried.
 *
 * @throws Refusal with the path of the entry that makes no sense ('strips.1.toIn')
 */
export function takeOffLoads(survey: Survey, criteria: Criteria, options: TakeOffOptions): LoadTakeOff {
  refuseRepeatedIds(survey);
  const strips = survey.strips.map((strip, index) =>
    stripTakeOff(strip, `strips.${index}`, survey, criteria, options.joistsAtBeam),
  );
  const walls = survey.wallsAbove.flatMap(
    (wall, index) => wallAboveLoad(wall, `wallsAbove.${index}`, survey) ?? [],
  );
  const braces = survey.braces.map((brace, index) => {
    refuseUnless(
      survey.roof !== undefined,
      'roof',
      'Roof braces need the roof they hold up: pitch, spans and weight.',
    );
    return braceTakeOff(brace, `braces.${index}`, survey, survey.roof, criteria);
  });
  const landings = survey.landings.flatMap((landing, index) =>
    landingLoads(landing, `landings.${index}`, survey),
  );
  return {
    loads: inEverySnowCase([
      ...strips.flatMap((strip) => strip.loads),
      ...walls,
      ...braces.flatMap((brace) => brace.loads),
      ...landings,
    ]),
    strips,
    braces,
    notices: oncePerId([
      ...strips.flatMap((strip) => strip.notices),
      ...braces.flatMap((brace) => brace.notices),
      ...braceRuleNotices(survey.braces, criteria.editions),
      ...assumedEntries(survey),
      ...leftOut(survey, criteria),
    ]),
  };
}

/**
 * Where one roof has unbalanced cases, snow that is known in one way only (a landing, a steep roof) lies as it
 * does in the balanced case, whatever the other roof does.
 */
function inEverySnowCase(loads: readonly Load[]): Load[] {
  const used = new Set<SnowCase>();
  const bySource = new Map<string, Set<SnowCase>>();
  for (const load of loads) {
    if (load.snowCase === undefined) continue;
    used.add(load.snowCase);
    const key = sourceKey(load);
    bySource.set(key, (bySource.get(key) ?? new Set()).add(load.snowCase));
  }
  return loads.flatMap((load) => {
    const own = bySource.get(sourceKey(load));
    if (load.snowCase !== 'balanced' || own === undefined || own.size > 1) return [load];
    return SNOW_CASES.filter((snowCase) => snowCase === 'balanced' || used.has(snowCase)).map((snowCase) => ({
      ...load,
      snowCase,
    }));
  });
}

function sourceKey(load: Load): string {
  return `${load.source.kind}:${load.source.id}`;
}

/** Ids name the entries in versions, load pictures and traces; two of one name would be one. */
function refuseRepeatedIds(survey: Survey): void {
  const seen = new Set<string>();
  for (const list of ['strips', 'wallsAbove', 'braces', 'landings'] as const) {
    survey[list].forEach((entry, index) => {
      if (seen.has(entry.id)) {
        throw new Refusal(`${list}.${index}.id`, `Two entries of the survey are called “${entry.id}”.`);
      }
      seen.add(entry.id);
    });
  }
}

function assumedEntries(survey: Survey): Notice[] {
  return [...survey.strips, ...survey.wallsAbove, ...survey.braces, ...survey.landings]
    .filter((entry) => entry.evidence === 'assumed')
    .map((entry) => ({
      id: `${entry.id}.assumed`,
      severity: 'caution',
      text: `${entry.label} is assumed, neither measured nor from plans.`,
    }));
}

/** What this take-off does not work out and the house may have: said, so that nobody takes it for counted. */
function leftOut(survey: Survey, criteria: Criteria): Notice[] {
  const notices: Notice[] = [];
  const carriesRoof = survey.braces.length > 0 || survey.strips.some((strip) => strip.carries === 'roof');
  if (carriesRoof && criteria.groundSnowPsf > 0) {
    notices.push({
      id: 'snow.higher-roof',
      severity: 'note',
      text: 'Not counted: snow that drifts against a wall or below a higher roof, and snow that slides down from one. Where this roof lies lower than what is beside it, the engineer adds it.',
      clause: snowClause(criteria.editions.asce7, '7.7 to 7.9'),
    });
  }
  if (survey.wallIsExterior) {
    notices.push({
      id: 'wall.bracing',
      severity: 'caution',
      text: 'An outer wall also braces the house against wind and earthquake. Whether enough braced wall is left beside the opening is not worked out here: the engineer says so before it is cut.',
      clause: {
        standard: 'IRC',
        edition: criteria.editions.irc,
        section: 'R602.10',
        provenance: 'from memory',
      },
    });
  }
  return notices;
}

function oncePerId(notices: readonly Notice[]): Notice[] {
  return [...new Map(notices.map((notice) => [notice.id, notice])).values()];
}
