import type { Landing, Survey, WallAbove } from '../../proposal/survey.ts';
import { qty } from '../../trace/quantity.ts';
import { refuseUnless } from '../../trace/refusal.ts';
import type { Step } from '../../trace/step.ts';
import { feetFromInches } from '../../units/conversions.ts';
import type { LineLoad, LoadKind, PointLoad } from '../load.ts';

/**
 * Line load of a wall that stands on the wall: psf of face times height. The part beyond the wall below is not
 * its business and is left out.
 *
 * @throws Refusal where its ends are the wrong way round or it stands off the wall altogether
 */
export function wallAboveLoad(wall: WallAbove, path: string, survey: Survey): LineLoad | undefined {
  refuseUnless(
    wall.toIn > wall.fromIn,
    `${path}.toIn`,
    `${wall.label}: the right end must lie right of the left end.`,
  );
  refuseUnless(
    wall.fromIn < survey.wallLengthIn,
    `${path}.fromIn`,
    `${wall.label} stands past the end of the wall.`,
  );
  const loadPlf = wall.deadPsf * feetFromInches(wall.heightIn);
  if (loadPlf === 0) return undefined;
  return {
    form: 'line',
    source: { kind: 'wall above', id: wall.id },
    label: wall.label,
    kind: 'D',
    fromIn: wall.fromIn,
    toIn: Math.min(wall.toIn, survey.wallLengthIn),
    loadPlf,
    steps: [
      {
        id: `${wall.id}.D`,
        title: `${wall.label}: weight on the wall`,
        clause: { standard: 'Mechanics', edition: '', section: 'weight of the face × height' },
        formula: 'w = q · h',
        values: { q: qty(wall.deadPsf, 'psf'), h: qty(feetFromInches(wall.heightIn), 'ft') },
        result: qty(loadPlf, 'plf'),
      },
    ],
  };
}

/** Point loads of a post or beam that lands on the wall, as the surveyor declares them. */
export function landingLoads(landing: Landing, path: string, survey: Survey): PointLoad[] {
  refuseUnless(
    landing.positionIn <= survey.wallLengthIn,
    `${path}.positionIn`,
    `${landing.label} lands past the end of the wall.`,
  );
  const byKind: readonly (readonly [LoadKind, number])[] = [
    ['D', landing.deadLb],
    ['L', landing.liveLb],
    ['Lr', landing.roofLiveLb],
    ['S', landing.snowLb],
    ['W', -landing.upliftLb],
  ];
  return byKind
    .filter(([, loadLb]) => loadLb !== 0)
    .map(([kind, loadLb]) => ({
      form: 'point',
      source: { kind: 'landing', id: landing.id },
      label: landing.label,
      kind,
      ...(kind === 'S' ? { snowCase: 'balanced' as const } : {}),
      positionIn: landing.positionIn,
      loadLb,
      steps: [declaredStep(landing, kind, loadLb)],
    }));
}

function declaredStep(landing: Landing, kind: LoadKind, loadLb: number): Step {
  return {
    id: `${landing.id}.${kind}`,
    title: `${landing.label}: ${kind}`,
    clause: { standard: 'Declared', edition: '', section: 'survey', provenance: 'declared' },
    formula: 'P = declared',
    values: { declared: qty(loadLb, 'lb') },
    result: qty(loadLb, 'lb'),
  };
}
