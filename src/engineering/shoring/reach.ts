import type { Survey } from '../proposal/survey.ts';
import type { Shoring } from '../proposal/design.ts';
import { makeCheck, qty, type Check, type Notice } from '../trace/index.ts';
import { PRACTICE } from './clauses.ts';

/** Where temporary walls usually stand, from the wall that goes. Common practice; sources say 12 to 48 in. */
export const USUAL_OFFSET_IN = { least: 12, most: 48 } as const;

/** Storeys that need shores: this one, those that hang on the wall, and the framed floor below, down to the ground. */
export function storeysToShore(survey: Pick<Survey, 'storeysAbove' | 'below'>): number {
  return 1 + survey.storeysAbove + (survey.below === 'slab' ? 0 : 1);
}

/** Does the shoring reach everything it must: both sides, every storey, the ground, the roof braces? */
export function reachChecks(survey: Survey, shoring: Shoring, joistsCut: boolean): Check[] {
  const storeys = storeysToShore(survey);
  const ending = survey.strips.filter(
    (strip) => strip.overWall === 'lapped' || (joistsCut && strip.carries !== 'roof'),
  );
  const free = (['front', 'rear'] as const).filter(
    (side) =>
      shoring.sides !== 'both' &&
      shoring.sides !== side &&
      ending.some((strip) => (side === 'front' ? strip.frontSpanIn : strip.rearSpanIn) > 0),
  );
  const checks: Check[] = [
    makeCheck({
      id: 'shoring.storeys',
      title: 'Storeys shored',
      clause: PRACTICE,
      demand: qty(storeys, 'each'),
      capacity: qty(shoring.storeysShored, 'each'),
      sentence: (passes) =>
        passes
          ? 'Every storey that hangs on the wall is shored, down to something that can carry it.'
          : `${storeys} storeys need shores: the one of the opening${survey.storeysAbove > 0 ? `, ${survey.storeysAbove} above that hang on the wall` : ''}${survey.below === 'slab' ? '' : ', and the framed floor below, down to the ground'}.`,
    }),
    makeCheck({
      id: 'shoring.sides',
      title: 'Sides shored',
      clause: PRACTICE,
      demand: qty(1 + free.length, 'each'),
      capacity: qty(1, 'each'),
      sentence: (passes) =>
        passes
          ? 'A temporary wall stands on every side where joists end at the wall.'
          : `Joists end at the wall on the ${free.join(' and ')} side, where no temporary wall stands: they would fall.`,
    }),
  ];
  if (survey.braces.length > 0) {
    checks.push(
      makeCheck({
        id: 'shoring.braces',
        title: 'Roof braces re-landed',
        clause: PRACTICE,
        demand: qty(survey.braces.length, 'each'),
        capacity: qty(shoring.bracesRelanded && shoring.sides === 'both' ? survey.braces.length : 0, 'each'),
        sentence: (passes) =>
          passes
            ? 'Every roof brace is set on a strongback over both temporary walls before the old wall goes.'
            : `${survey.braces.length} roof braces stand on the wall: set them on strongbacks over temporary walls on both sides first.`,
      }),
    );
  }
  if (survey.below === 'slab' ? shoring.soleOn !== 'slab' : shoring.soleOn === 'slab') {
    checks.push(
      makeCheck({
        id: 'shoring.sole',
        title: 'What the sole stands on',
        clause: PRACTICE,
        demand: qty(1, 'each'),
        capacity: qty(0, 'each'),
        sentence: () =>
          survey.below === 'slab'
            ? 'The survey says slab, the shoring says joists: one of them is wrong.'
            : `The survey says ${survey.below}, the shoring stands on a slab: one of them is wrong.`,
      }),
    );
  }
  return checks;
}

export function reachNotices(survey: Survey, shoring: Shoring): Notice[] {
  const notices: Notice[] = [];
  const say = (id: string, severity: Notice['severity'], text: string) =>
    notices.push({ id: `shoring.${id}`, severity, text, clause: PRACTICE });
  if (shoring.offsetIn < USUAL_OFFSET_IN.least || shoring.offsetIn > USUAL_OFFSET_IN.most) {
    say(
      'offset',
      'caution',
      `Temporary walls usually stand ${USUAL_OFFSET_IN.least} to ${USUAL_OFFSET_IN.most} in from the wall: room to work on one hand, short overhang on the other.`,
    );
  }
  if (shoring.soleOn === 'joists along') {
    say(
      'sole-along',
      'caution',
      'The sole runs along the joists: sheathing alone carries no stud. Lay solid blocking or planks over at least three joists under each stud, and shore straight below.',
    );
  }
  if (shoring.soleOn === 'joists across') {
    say(
      'sole-across',
      'caution',
      'The sole crosses joists: shore straight below it, not at the middle of the joists.',
    );
  }
  if (shoring.soleOn === 'slab') {
    say(
      'sole-slab',
      'note',
      'Lay the sole on the slab over a strip of plywood; look for ducts and drains under thin slabs first.',
    );
  }
  for (const landing of survey.landings) {
    // ASCE 7 2.4.1, combinations 2 to 4; strength-level snow of 7-22 is not lowered for a figure that says "about".
    const roofLb = Math.max(landing.snowLb, landing.roofLiveLb);
    const passingLb = Math.max(landing.liveLb, roofLb, 0.75 * (landing.liveLb + roofLb));
    const load = landing.deadLb + passingLb;
    say(
      `landing.${landing.id}`,
      'caution',
      `${landing.label} lands on the wall: give it a shore of its own, straight under it, for about ${Math.round(load)} lb, down to the ground.`,
    );
  }
  return notices;
}
