/** Relative luminance of #rrggbb, WCAG 2.2: what is left of a colour in a grey print. */
export function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((start) => {
    const part = parseInt(hex.slice(start, start + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/** Contrast ratio, WCAG 2.2. */
export function contrast(one: string, other: string): number {
  const [high, low] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (high! + 0.05) / (low! + 0.05);
}

/** Every colour of a style sheet by its token. */
export function colours(css: string): Record<string, string> {
  return Object.fromEntries(
    [...css.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)].map((match) => [match[1]!, match[2]!]),
  );
}
