/**
 * Stands in a gallery where a preview cannot be shown, so that it is seen and not taken for a slow line. Its words
 * are ours alone; nothing of a user's goes into it.
 */
export function failurePicture(lines: readonly [string, string]): string {
  const [first, second] = lines;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 320 240" width="320" height="240" role="img" aria-label="${first} ${second}">
<rect width="320" height="240" fill="#fff"/><rect x="3" y="3" width="314" height="234" fill="none" stroke="#a00000" stroke-width="6"/>
<path d="M40 60 280 60M40 180 280 180" stroke="#a00000" stroke-width="2"/>
<g fill="#a00000" font-family="sans-serif" text-anchor="middle"><text x="160" y="115" font-size="24" font-weight="700">${first}</text><text x="160" y="150" font-size="16">${second}</text></g>
</svg>`;
}

export const hashFailurePicture = failurePicture(['Hash failure', 'The stored file is damaged']);
export const noPreviewPicture = failurePicture(['No preview', 'This page can’t be drawn here']);
