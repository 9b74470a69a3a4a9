import { analyseBeam, type BeamLoad } from '../statics/index.ts';
import { notNegative, positive, refuseUnless } from '../trace/index.ts';

export type ShoredSides = 'both' | 'front' | 'rear';

/** Joists or rafters over the wall that goes. A span of zero: nothing on that side. */
export interface ShoredJoists {
  readonly frontSpanIn: number;
  readonly rearSpanIn: number;
  readonly overWall: 'lapped' | 'continuous';
}

/** Force on one temporary wall from 1 lb/in on the front span, 1 lb/in on the rear span, 1 lb on the old wall line. */
export interface TemporaryReaction {
  readonly front: number;
  readonly rear: number;
  readonly standing: number;
}

export interface TemporaryReactions {
  readonly front: TemporaryReaction;
  readonly rear: TemporaryReaction;
}

const NOTHING: TemporaryReaction = { front: 0, rear: 0, standing: 0 };

/**
 * What a joist puts on the temporary walls once the old wall is gone: ends stick out past the temporary wall by its
 * offset a, so one span l alone gives w·l² ÷ (2(l − a)), more than the w·l ÷ 2 of the old wall. A joist that runs on
 * over the wall is a continuous beam on the outer supports and the temporary walls.
 * Mechanics. Refuses a temporary wall at or beyond half the span (the far end would lift) and joists that end on the
 * old wall with no temporary wall on their side.
 */
export function temporaryReactions(
  joists: ShoredJoists,
  offsetIn: number,
  sides: ShoredSides,
): TemporaryReactions {
  const offset = positive(offsetIn, 'offsetIn');
  for (const [side, span] of [
    ['front', joists.frontSpanIn],
    ['rear', joists.rearSpanIn],
  ] as const) {
    notNegative(span, `${side}SpanIn`);
    refuseUnless(
      span === 0 || sides === (side === 'front' ? 'rear' : 'front') || offset < span / 2,
      'offsetIn',
      `The temporary wall would stand at or past the middle of the ${side} span; bring it closer to the wall.`,
    );
  }
  return joists.overWall === 'lapped' ? lapped(joists, offset, sides) : continuous(joists, offset, sides);
}

function lapped(joists: ShoredJoists, offset: number, sides: ShoredSides): TemporaryReactions {
  const both = joists.frontSpanIn > 0 && joists.rearSpanIn > 0;
  const one = (side: 'front' | 'rear', span: number): TemporaryReaction => {
    if (span === 0) return NOTHING;
    refuseUnless(
      sides === 'both' || sides === side,
      'sides',
      `Joists that end on the wall hang free on the ${side} side: they need a temporary wall there.`,
    );
    const ownLoad = span ** 2 / (2 * (span - offset));
    const standing = (both ? 0.5 : 1) * (span / (span - offset));
    return side === 'front' ? { front: ownLoad, rear: 0, standing } : { front: 0, rear: ownLoad, standing };
  };
  return { front: one('front', joists.frontSpanIn), rear: one('rear', joists.rearSpanIn) };
}

function continuous(joists: ShoredJoists, offset: number, sides: ShoredSides): TemporaryReactions {
  const wall = positive(joists.frontSpanIn, 'frontSpanIn');
  const lengthIn = wall + positive(joists.rearSpanIn, 'rearSpanIn');
  const at = [0];
  if (sides !== 'rear') at.push(wall - offset);
  if (sides !== 'front') at.push(wall + offset);
  at.push(lengthIn);
  const model = { lengthIn, ei: 1, supports: at.map((atIn) => ({ atIn, kind: 'pin' as const })) };
  const loads: readonly BeamLoad[] = [
    { kind: 'partial', fromIn: 0, toIn: wall, loadLbPerIn: 1 },
    { kind: 'partial', fromIn: wall, toIn: lengthIn, loadLbPerIn: 1 },
    { kind: 'point', atIn: wall, loadLb: 1 },
  ];
  const solved = loads.map((load) =>
    analyseBeam(model, [load]).reactions.map((reaction) => reaction.forceLb),
  );
  const of = (index: number): TemporaryReaction => ({
    front: solved[0]?.[index] ?? 0,
    rear: solved[1]?.[index] ?? 0,
    standing: solved[2]?.[index] ?? 0,
  });
  return {
    front: sides === 'rear' ? NOTHING : of(1),
    rear: sides === 'front' ? NOTHING : of(sides === 'both' ? 2 : 1),
  };
}
