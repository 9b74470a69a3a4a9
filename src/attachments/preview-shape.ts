import type { Sharp } from 'sharp';

/** As every preview is: no wider than asked, no roll of a mile, WebP, and without the camera's metadata. */
export function asPreview(image: Sharp, widthPx: number): Sharp {
  return image
    .resize({ width: widthPx, height: widthPx * 4, fit: 'inside', withoutEnlargement: true })
    .webp({ quality: 78 });
}
