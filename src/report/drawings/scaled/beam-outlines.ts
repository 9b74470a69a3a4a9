import type { OpeningLayout } from '../../../engineering/layout/index.ts';
import { wideFlange } from '../../../engineering/steel/index.ts';
import type { Hatching, Outline } from './figure.ts';

type LaidBeam = OpeningLayout['beam'];
type CutBeam = Pick<LaidBeam, 'pieces' | 'widthIn' | 'depthIn' | 'undersideIn'>;
type BeamPiece = LaidBeam['pieces'][number];

const HATCHING: Readonly<Record<BeamPiece['material'], Hatching>> = {
  'sawn lumber': 'end grain',
  'composite lumber': 'layered wood',
  glulam: 'layered wood',
  'steel shape': 'steel',
  'steel plate': 'steel',
};

/** A beam as it is cut: ply beside ply, plates of a flitch between its plies, a rolled shape by flanges and web. */
export function beamOutlines(beam: CutBeam): Outline[] {
  const [first] = beam.pieces;
  if (first?.material === 'steel shape') return rolled(beam, first.label);
  const plies = sideBySide(beam.pieces);
  // Nailed plies lie as measured, thicker than the table has them.
  const listed = plies.reduce((sum, ply) => sum + ply.thicknessIn, 0);
  const stretch = listed === 0 ? 1 : beam.widthIn / listed;
  let x = -beam.widthIn / 2;
  return plies.map((ply, index): Outline => {
    const width = ply.thicknessIn * stretch;
    const outline: Outline = {
      form: 'outline',
      layer: 'BEAM',
      piece: `${ply.label}, ply ${index + 1}`,
      x,
      // A plate of less depth than its plies lies at their middle.
      y: beam.undersideIn + (beam.depthIn - ply.depthIn) / 2,
      width,
      height: ply.depthIn,
      hatching: HATCHING[ply.material],
    };
    x += width;
    return outline;
  });
}

/** Every single piece from the front to the rear: plates share the joints between the plies evenly. */
function sideBySide(pieces: readonly BeamPiece[]): BeamPiece[] {
  const spread = pieces.map((piece) => Array.from({ length: piece.count }, () => piece));
  const [wood = [], plates = []] = spread;
  if (plates.length === 0) return spread.flat();
  const joints = Math.max(1, wood.length - 1);
  return wood.flatMap((ply, index) => {
    const share = plates.slice(
      Math.round((index * plates.length) / joints),
      Math.round(((index + 1) * plates.length) / joints),
    );
    return index < joints ? [ply, ...share] : [ply];
  });
}

function rolled(beam: CutBeam, shape: string): Outline[] {
  const { webIn, flangeIn, flangeWidthIn, depthIn } = wideFlange(shape);
  const part = (piece: string, width: number, y: number, height: number): Outline => ({
    form: 'outline',
    layer: 'BEAM',
    piece: `${shape}, ${piece}`,
    x: -width / 2,
    y,
    width,
    height,
    hatching: 'steel',
  });
  return [
    part('lower flange', flangeWidthIn, beam.undersideIn, flangeIn),
    part('web', webIn, beam.undersideIn + flangeIn, depthIn - 2 * flangeIn),
    part('upper flange', flangeWidthIn, beam.undersideIn + depthIn - flangeIn, flangeIn),
  ];
}
