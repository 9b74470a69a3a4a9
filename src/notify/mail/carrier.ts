import type { Prepared } from './message.ts';

/** How a hand-over ended. `unsure`: the bytes were on the way and no answer came, so the other side may have them. */
export type Carried =
  | { readonly is: 'accepted' }
  | { readonly is: 'refused'; readonly forGood: boolean; readonly problem: string }
  | { readonly is: 'unsure'; readonly problem: string };

/** Takes prepared letters away: to a mail server, or into a folder. */
export interface Carrier {
  /**
   * @param handingOver awaited right before the first byte of the letter leaves; where it rejects, none leaves.
   */
  carry: (prepared: Prepared, handingOver: () => Promise<void>) => Promise<Carried>;
}
