import { SQUARE } from '../../attachments/notes/squares.ts';
import { Invalid } from '../../problems.ts';
import type { UseCase } from '../../record/use-case.ts';
import { approvedDrawings } from '../../attachments/approved.ts';

/** Where something was found: a square of the grid that can be laid over a drawing, columns A to J, rows 1 to 10. */
export interface Place {
  readonly sheetId: string;
  readonly square: string;
}

/** @throws Invalid at the fields, named by the check, where the square or the drawing can't be meant */
export async function judgePlace(
  { tx, actor }: UseCase,
  visit: { readonly openingId: string },
  checkId: string,
  { sheetId, square }: Place,
): Promise<void> {
  if (!SQUARE.test(square)) {
    throw new Invalid({ [`square.${checkId}`]: 'A letter from A to J and a number from 1 to 10: C4.' });
  }
  const sheets = await approvedDrawings(tx, { projectId: actor.projectId }, visit.openingId);
  if (!sheets.some((sheet) => sheet.attachmentId === sheetId)) {
    throw new Invalid({ [`square.${checkId}`]: 'That drawing is not in the set.' });
  }
}
