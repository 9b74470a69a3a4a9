import { notNegative, positive, refuseUnless } from '../trace/refusal.ts';
import { qty } from '../trace/quantity.ts';
import type { Notice, Step } from '../trace/step.ts';
import { formatFeetInches } from '../units/length-format.ts';
import type { LineLoad, Load } from './load.ts';

/** Where the beam lies along the wall, from the datum. */
export interface BeamInterval {
  readonly fromIn: number;
  readonly toIn: number;
}

export interface LoadsOnBeam {
  /** In beam coordinates: 0 is the beam's left end. */
  readonly loads: readonly Load[];
  /** In wall coordinates: what stays on the wall either side and never reaches the beam. */
  readonly besideBeam: readonly Load[];
  readonly notices: readonly Notice[];
}

/**
 * Splits the loads of the wall at the beam's ends. A line load is cut there; a point load exactly at an end is the
 * beam's, one beyond it stays on the wall: the studs beneath it carry it as they do today.
 *
 * @throws Refusal for an interval without length
 */
export function loadsOnBeam(loads: readonly Load[], beam: BeamInterval): LoadsOnBeam {
  notNegative(beam.fromIn, 'beam.fromIn');
  refuseUnless(
    Number.isFinite(beam.toIn) && beam.toIn > beam.fromIn,
    'beam.toIn',
    'The right end of the beam must lie right of its left end.',
  );
  const onBeam: Load[] = [];
  const beside: Load[] = [];
  for (const load of loads) {
    if (load.form === 'point') {
      if (load.positionIn >= beam.fromIn && load.positionIn <= beam.toIn) {
        onBeam.push({ ...load, positionIn: load.positionIn - beam.fromIn });
      } else beside.push(load);
      continue;
    }
    const fromIn = Math.max(load.fromIn, beam.fromIn);
    const toIn = Math.min(load.toIn, beam.toIn);
    if (toIn > fromIn) {
      onBeam.push({ ...load, fromIn: fromIn - beam.fromIn, toIn: toIn - beam.fromIn });
    }
    if (load.fromIn < beam.fromIn) beside.push({ ...load, toIn: Math.min(load.toIn, beam.fromIn) });
    if (load.toIn > beam.toIn) beside.push({ ...load, fromIn: Math.max(load.fromIn, beam.toIn) });
  }
  return { loads: onBeam, besideBeam: beside, notices: besideNotices(beside) };
}

function besideNotices(beside: readonly Load[]): Notice[] {
  const notices = new Map<string, Notice>();
  for (const load of beside) {
    if (load.form !== 'point') continue;
    const id = `${load.source.id}.beside-beam`;
    notices.set(id, {
      id,
      severity: 'note',
      text: `${load.label} at ${formatFeetInches(load.positionIn, { to: 16 })} from the datum stands on the wall beside the beam and stays there; keep the studs under it.`,
    });
  }
  return [...notices.values()];
}

/** The member's own weight as a line load in beam coordinates. */
export function selfWeight(weightPlf: number, lengthIn: number): LineLoad {
  notNegative(weightPlf, 'member.weightPlf');
  positive(lengthIn, 'beam.lengthIn');
  const step: Step = {
    id: 'self-weight.D',
    title: 'Weight of the beam',
    clause: { standard: 'ASCE 7', edition: '', section: '3.1' },
    formula: 'w = wb',
    values: { wb: qty(weightPlf, 'plf') },
    result: qty(weightPlf, 'plf'),
  };
  return {
    form: 'line',
    source: { kind: 'member', id: 'self-weight' },
    label: 'Weight of the beam',
    kind: 'D',
    fromIn: 0,
    toIn: lengthIn,
    loadPlf: weightPlf,
    steps: [step],
  };
}
