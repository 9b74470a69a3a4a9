import { checkPad, type Pad } from '../foundation/pad.ts';
import { requiredPad } from '../foundation/required-pad.ts';
import { kindsPresent, strengthCombinations } from '../loads/combinations.ts';
import { sawnSize } from '../materials/lumber-sizes.ts';
import { makeCheck, qty, type Check, type Notice } from '../trace/index.ts';
import type { BeamActions } from './beam-actions.ts';
import { calculateBeam, type Outcome } from './beam.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Footing, Support } from './design.ts';
import { endReactions } from './support.ts';
import type { Survey } from './survey.ts';

/** The heaviest strength-level reaction (ASCE 7 2.3.1; ACI 318-19 5.3.1), lb, with its combination. */
function factoredReaction(
  actions: BeamActions,
  criteria: Criteria,
  end: 'left' | 'right',
): { readonly name: string; readonly forceLb: number } {
  const reactions = actions.reactions[end];
  const snow = Math.max(
    0,
    ...Object.entries(reactions).flatMap(([kind, force]) => (kind.startsWith('S ') ? [force] : [])),
  );
  return strengthCombinations(criteria.editions, kindsPresent(actions.loads))
    .map(({ name, factors }) => ({
      name,
      forceLb:
        factors.D * (reactions['D'] ?? 0) +
        factors.L * (reactions['L'] ?? 0) +
        factors.Lr * (reactions['Lr'] ?? 0) +
        factors.S * snow +
        factors.W * (reactions['W'] ?? 0),
    }))
    .reduce((most, one) => (one.forceLb > most.forceLb ? one : most));
}

/**
 * What is under one pack, from the evidence recorded, and the pad that is proposed or would be needed.
 *
 * @throws Refusal with the path of the entry that can't be
 */
export function calculateFooting(
  survey: Survey,
  criteria: Criteria,
  beam: Beam,
  support: Support,
  footing: Footing,
): Outcome {
  const { actions } = calculateBeam(survey, criteria, beam);
  const service = endReactions(actions, footing.end).reduce((most, one) =>
    one.forceLb > most.forceLb ? one : most,
  );
  const factored = factoredReaction(actions, criteria, footing.end);
  const size = sawnSize(support.size, 'size');
  const footprint = {
    alongIn: support.kind === 'post' ? size.thicknessIn : (support.jacks + support.kings) * size.thicknessIn,
    acrossIn: size.widthIn,
  };
  const load = {
    footprint,
    serviceLb: Math.max(0, service.forceLb),
    factoredLb: Math.max(0, factored.forceLb),
    soilBearingPsf: criteria.soilBearingPsf,
    concretePsi: footing.concretePsi,
    editions: criteria.editions,
    governing: { service: service.name, factored: factored.name },
  };
  const needed = requiredPad(load);
  const pad = padOf(footing);
  const checks: Check[] = pad === null ? [unknownCheck(needed)] : checkPad('pad', { ...load, pad });
  return {
    checks,
    steps: [],
    notices: footingNotices(footing, needed, pad),
    outputs: {
      'service load': qty(load.serviceLb, 'lb'),
      'factored load': qty(load.factoredLb, 'lb'),
      'pad that would do': needed === undefined ? 'no plain pad does' : padWords(needed),
    },
  };
}

/** The proposed pad; else what was found, where both sizes are known. */
function padOf(footing: Footing): Pad | null {
  const { pad } = footing;
  if (pad !== undefined)
    return { alongIn: pad.lengthIn, acrossIn: pad.widthIn, thicknessIn: pad.thicknessIn };
  const { found, foundWidthIn, foundThicknessIn } = footing;
  if (found === 'nothing known' || foundWidthIn === 0 || foundThicknessIn === 0) return null;
  return { alongIn: foundWidthIn, acrossIn: foundWidthIn, thicknessIn: foundThicknessIn };
}

function padWords({ alongIn, acrossIn, thicknessIn }: Pad): string {
  return `${alongIn} x ${acrossIn} x ${thicknessIn} in`;
}

function unknownCheck(needed: Pad | undefined): Check {
  return makeCheck({
    id: 'pad.known',
    title: 'What is under the pack',
    clause: { standard: 'Practice', edition: '', section: 'open up and look', provenance: 'common practice' },
    demand: qty(1, 'each'),
    capacity: qty(0, 'each'),
    sentence: () =>
      `Nothing is known of the footing here. Open up and look, at several points${needed === undefined ? '' : `, or pour a pad of ${padWords(needed)}`}.`,
  });
}

function footingNotices(footing: Footing, needed: Pad | undefined, pad: Pad | null): Notice[] {
  const notices: Notice[] = [];
  if (footing.postTensioned !== 'no') {
    notices.push({
      id: 'pad.tendons',
      severity: 'caution',
      text:
        footing.postTensioned === 'yes'
          ? 'The slab is post-tensioned. Do not cut, core or drill it: a cut tendon releases with deadly force. A specialist decides.'
          : 'Find out whether the slab is post-tensioned before any cutting, coring or drilling.',
    });
  }
  if (footing.found === 'plans') {
    notices.push({
      id: 'pad.plans-only',
      severity: 'caution',
      text: 'Known from plans alone: what was built may differ. Probe or core before the load comes on.',
    });
  }
  if (pad === null && needed !== undefined) {
    notices.push({
      id: 'pad.needed',
      severity: 'note',
      text: `A plain concrete pad of ${padWords(needed)} would do.`,
    });
  }
  return notices;
}
