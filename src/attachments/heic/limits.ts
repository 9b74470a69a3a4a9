/** Larger than any phone's photo; four bytes each once decoded. */
export const LARGEST_HEIC_PIXELS = 50_000_000;
