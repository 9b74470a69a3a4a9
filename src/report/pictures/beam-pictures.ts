import { layOutOpening, type OpeningLayout } from '../../engineering/layout/index.ts';
import type { BeamActions } from '../../engineering/proposal/beam-actions.ts';
import { calculateBeam, type BeamOutcome } from '../../engineering/proposal/beam.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { samplesOf, type CombinationResult, type Governing } from '../../engineering/statics/index.ts';
import { formatQuantity, qty } from '../../engineering/trace/index.ts';
import { formatFeetInches, poundFeetFromPoundInches } from '../../engineering/units/index.ts';
import { drawDiagrams, drawLoadPicture, type DiagramPanel } from '../drawings/index.ts';
import { drawnLineLoads, drawnPointLoads } from './drawn-loads.ts';
import type { Picture } from './picture.ts';

/** What a beam is drawn from. Supports and footings may be missing while they are not proposed yet. */
export interface BeamProposal {
  readonly survey: Survey;
  readonly criteria: Criteria;
  readonly beam: Beam;
  readonly supports: readonly Support[];
  readonly footings: readonly Footing[];
}

const DIVISIONS = 48;

function largest({ max, min }: { readonly max: Governing; readonly min: Governing }): Governing {
  return max.value >= -min.value ? max : min;
}

/** Heights closer than this are one on a tape. */
const LEVEL_IN = 1 / 32;

/**
 * How the beam lies to the joists, whose own depth the picture has no figures for; nothing before there are packs, since
 * where the beam lies follows from them.
 */
function undersideWords({ beam, packs, wallHeightIn }: OpeningLayout): string | undefined {
  if (packs.length === 0) return undefined;
  const lowerIn = wallHeightIn - beam.undersideIn;
  const off = formatFeetInches(Math.abs(lowerIn), { to: 16 });
  if (beam.placement === 'dropped') return `Dropped: its underside is ${off} below that of the joists.`;
  if (Math.abs(lowerIn) < LEVEL_IN)
    return 'Flush: its underside is level with that of the joists on its faces.';
  return `Flush: its underside is ${off} ${lowerIn > 0 ? 'below' : 'above'} that of the joists on its faces.`;
}

/** The wall, the beam on its packs, every load on it, and the largest reaction at each end by its combination. */
export function loadPicture(id: string, actions: BeamActions, layout: OpeningLayout): Picture {
  const [beam, ...others] = [...layout.pieces].sort(
    (a, b) => Number(b.kind === 'beam') - Number(a.kind === 'beam'),
  );
  if (beam === undefined) return { title: 'Loads on the beam', svg: '' };
  const supports = actions.envelope.reactions.map((reaction, index) => {
    const { value, result } = reaction.forceLb.max;
    const at = actions.geometry.fromIn + actions.geometry.bearingLeftIn / 2 + reaction.atIn;
    return {
      atIn: at,
      label: index === 0 ? 'Left' : 'Right',
      reaction: `${result.combination.name}: ${formatQuantity(qty(value, 'lb'))}`,
    };
  });
  const lines = drawnLineLoads(actions.loads, actions.geometry.fromIn);
  const points = drawnPointLoads(actions.loads, actions.geometry.fromIn);
  const title = 'Loads on the beam';
  const note = undersideWords(layout);
  return {
    title,
    svg: drawLoadPicture({
      id,
      title,
      description: `Opening ${formatFeetInches(layout.opening.toIn - layout.opening.fromIn, { to: 16 })} wide.${note === undefined ? '' : ` ${note}`} ${lines.length} loads along the beam, ${points.length} at points. ${supports.map((one) => `${one.label} reaction, ${one.reaction}`).join('. ')}.`,
      ...(note === undefined ? {} : { note }),
      datum: layout.datum,
      wallLengthIn: layout.wallLengthIn,
      wallHeightIn: layout.wallHeightIn,
      opening: layout.opening,
      beam,
      pieces: others,
      lineLoads: lines,
      pointLoads: points,
      supports,
    }),
  };
}

function panel(
  name: DiagramPanel['name'],
  unit: string,
  governing: Governing,
  value: (sample: ReturnType<typeof samplesOf>[number]) => number,
  shown: (value: number) => number,
): DiagramPanel {
  const { result }: { readonly result: CombinationResult } = governing;
  return {
    name,
    unit,
    positiveIs: 'up',
    curves: [
      {
        label: result.combination.name,
        points: samplesOf(result.analysis, DIVISIONS).map((sample) => ({
          atIn: sample.atIn,
          value: shown(value(sample)),
        })),
      },
    ],
    extremes: [{ atIn: governing.atIn, value: shown(governing.value) }],
  };
}

/**
 * Shear, moment and deflection, each under the combination that governs it; the extreme is the exact one of the
 * statics. Deflection is that at once, without creep: the statics' E·I·δ over the member's E′·I.
 */
export function diagramPicture(
  id: string,
  { actions, rigidityLbIn2 }: Pick<BeamOutcome, 'actions' | 'rigidityLbIn2'>,
): Picture {
  const { envelope, geometry } = actions;
  const shear = largest(envelope.shearLb);
  const moment = largest(envelope.momentLbIn);
  const sag = largest(envelope.deflectionIn);
  const title = 'Shear, moment and deflection';
  const momentText = formatQuantity(qty(poundFeetFromPoundInches(moment.value), 'lb-ft'));
  return {
    title,
    svg: drawDiagrams({
      id,
      title,
      description: `Largest shear ${formatQuantity(qty(shear.value, 'lb'))}, under ${shear.result.combination.name}. Largest moment ${momentText}, under ${moment.result.combination.name}. Largest deflection ${formatQuantity(qty(sag.value / rigidityLbIn2, 'in'))}, without creep. Places from the middle of the left bearing.`,
      lengthIn: geometry.spanIn,
      supportsIn: [0, geometry.spanIn],
      panels: [
        panel(
          'Shear',
          'lb',
          shear,
          (sample) => sample.shearLb,
          (value) => value,
        ),
        panel('Moment', 'lb-ft', moment, (sample) => sample.momentLbIn, poundFeetFromPoundInches),
        {
          ...panel(
            'Deflection',
            'in',
            sag,
            (sample) => sample.deflectionIn,
            (value) => value / rigidityLbIn2,
          ),
          positiveIs: 'down',
        },
      ],
    }),
  };
}

interface Solved {
  readonly outcome: BeamOutcome;
  readonly layout: OpeningLayout;
}

function solve({ survey, criteria, beam, supports, footings }: BeamProposal): Solved {
  return {
    outcome: calculateBeam(survey, criteria, beam),
    layout: layOutOpening({ survey, beam, supports, footings, editions: criteria.editions }),
  };
}

/**
 * The loads on a proposed beam alone, without its diagrams.
 *
 * @param id unique on the page
 * @throws Refusal where the beam can't be calculated or laid out
 */
export function beamLoadPicture(id: string, proposal: BeamProposal): Picture {
  const { outcome, layout } = solve(proposal);
  return loadPicture(`${id}-loads`, outcome.actions, layout);
}

/**
 * Both pictures of a proposed beam.
 *
 * @param id unique on the page
 * @throws Refusal where the beam can't be calculated or laid out
 */
export function beamPictures(id: string, proposal: BeamProposal): readonly Picture[] {
  const { outcome, layout } = solve(proposal);
  return [loadPicture(`${id}-loads`, outcome.actions, layout), diagramPicture(`${id}-diagrams`, outcome)];
}
