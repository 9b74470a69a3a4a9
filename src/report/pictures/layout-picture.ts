import type { OpeningLayout } from '../../engineering/layout/index.ts';
import { formatFeetInches } from '../../engineering/units/index.ts';
import { drawLayoutElevation } from '../drawings/index.ts';
import type { Picture } from './picture.ts';

/** The elevation with every mark to make, from the laid-out opening. */
export function layoutPicture(id: string, layout: OpeningLayout): Picture {
  const title = 'Marks to lay out';
  const cuts = layout.marks.filter((mark) => mark.kind === 'cut');
  return {
    title,
    svg: drawLayoutElevation({
      id,
      title,
      description: `${layout.marks.length} marks from ${layout.datum}. Cuts at ${cuts.map((mark) => formatFeetInches(mark.atIn, { to: 16 })).join(', ')}.`,
      datum: layout.datum,
      wallLengthIn: layout.wallLengthIn,
      wallHeightIn: layout.wallHeightIn,
      opening: layout.opening,
      pieces: layout.pieces,
      marks: layout.marks,
    }),
  };
}
