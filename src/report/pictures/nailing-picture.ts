import { drawPattern } from '../../engineering/fasteners/schedule/drawing.ts';
import type { FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import type { Editions } from '../../engineering/trace/index.ts';
import { drawNailingPattern } from '../drawings/index.ts';
import type { Picture } from './picture.ts';

/**
 * Face and section of a fastening row with what is wrong in it.
 *
 * @param fastener the fastener in trade words
 * @param sheetWidth as in the model; left out: the usual sheet
 */
export function nailingPicture(
  id: string,
  row: FasteningRow,
  editions: Editions,
  fastener: string,
  sheetWidth?: number,
): Picture {
  const pattern = drawPattern(row, editions);
  const title = `Pattern: ${row.where}`;
  const wrong = pattern.violations.map((violation) => violation.sentence).join(' ');
  return {
    title,
    svg: drawNailingPattern({
      id,
      title,
      description: `${pattern.face.fasteners.length} fasteners shown, ${fastener}. ${wrong === '' ? 'Nothing is out of place.' : wrong}`,
      fastener,
      ...(sheetWidth === undefined ? {} : { sheetWidth }),
      ...pattern,
    }),
  };
}
