import type { BeamAnalysis, Piece, Reaction } from './beam-analysis.ts';
import type { BeamLine } from './beam-line.ts';

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** A growing sum of analyses on one line, itself an analysis; nothing acts on it at first. */
export class Superposition implements BeamAnalysis {
  readonly line: BeamLine;
  readonly pieces: Writable<Piece>[] = [];
  readonly reactions: Writable<Reaction>[] = [];

  constructor(line: BeamLine) {
    this.line = line;
    let fromIn = 0;
    for (const toIn of line.breaksIn) {
      if (toIn > fromIn) {
        this.pieces.push({
          fromIn,
          lengthIn: toIn - fromIn,
          loadLbPerIn: 0,
          loadChangeLbPerIn: 0,
          shearLb: 0,
          momentLbIn: 0,
          slopeRad: 0,
          deflectionIn: 0,
        });
      }
      fromIn = toIn;
    }
    for (const { atIn } of line.model.supports) this.reactions.push({ atIn, forceLb: 0, momentLbIn: 0 });
  }

  add(analysis: BeamAnalysis, factor: number): void {
    if (factor === 0) return;
    this.pieces.forEach((sum, index) => {
      const piece = analysis.pieces[index];
      if (piece === undefined) return;
      sum.loadLbPerIn += factor * piece.loadLbPerIn;
      sum.loadChangeLbPerIn += factor * piece.loadChangeLbPerIn;
      sum.shearLb += factor * piece.shearLb;
      sum.momentLbIn += factor * piece.momentLbIn;
      sum.slopeRad += factor * piece.slopeRad;
      sum.deflectionIn += factor * piece.deflectionIn;
    });
    this.reactions.forEach((sum, index) => {
      const reaction = analysis.reactions[index];
      if (reaction === undefined) return;
      sum.forceLb += factor * reaction.forceLb;
      sum.momentLbIn += factor * reaction.momentLbIn;
    });
  }
}
