import { pieceKey } from '../../engineering/proposal/search/catalogue.ts';
import type { Candidate } from '../../engineering/proposal/search/search-beams.ts';
import type { FormState } from '../../web/forms/judge.ts';
import type { Typed } from '../../web/forms/spec.ts';

/** A piece and what was typed beside it. */
export interface PriceBox {
  readonly piece: string;
  readonly text: string;
}

const MOST = 60;

/** A box for every piece that the best candidates are made of, filled from the list. */
export function priceBoxes(
  candidates: readonly Candidate[],
  prices: Readonly<Record<string, number>>,
): FormState & { readonly pieces: readonly string[] } {
  const pieces = [...new Set(candidates.map(({ member }) => pieceKey(member)))];
  return priceForm(
    pieces.map((piece) => ({ piece, text: prices[piece]?.toFixed(2) ?? '' })),
    {},
  );
}

/** @param problems sentences by piece */
export function priceForm(
  boxes: readonly PriceBox[],
  problems: Readonly<Record<string, string>>,
): FormState & { readonly pieces: readonly string[] } {
  const values = Object.fromEntries(boxes.map(({ text }, index) => [`price.${index}`, text]));
  const errors = Object.fromEntries(
    boxes.flatMap(({ piece }, index) => {
      const problem = problems[piece];
      return problem === undefined ? [] : [[`price.${index}`, `${piece}: ${problem}`]];
    }),
  );
  return { values, errors, pieces: boxes.map(({ piece }) => piece) };
}

export function readPriceBoxes(typed: Typed): PriceBox[] {
  const boxes: PriceBox[] = [];
  for (let index = 0; index < MOST; index += 1) {
    const piece = typed[`piece.${index}`];
    if (piece === undefined) break;
    boxes.push({ piece, text: typed[`price.${index}`] ?? '' });
  }
  return boxes;
}
