/** A run of words written from right to left, with the spaces and signs between them. */
const RUN =
  /[\p{Script=Hebrew}\p{Script=Arabic}\p{M}]+(?:[^\p{L}\p{N}\n]+[\p{Script=Hebrew}\p{Script=Arabic}\p{M}]+)*/gu;
/** As many letters stand in one line everywhere; of a longer run each word is turned by itself. */
const IN_ONE_LINE = 40;
const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

/**
 * The letters as they stand on paper from left to right, for a layout that sets them so in the order in which they
 * come: names in Hebrew begin at the right. No more than the order: Arabic letters stay unjoined.
 */
export function asWrittenOnPaper(text: string): string {
  return text.replace(RUN, (run) =>
    run.length <= IN_ONE_LINE ? turned(run) : run.replace(/[^\s]+/gu, (word) => turned(word)),
  );
}

function turned(words: string): string {
  return Array.from(graphemes.segment(words), ({ segment }) => segment)
    .reverse()
    .join('');
}
