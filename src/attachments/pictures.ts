import type { Readable } from 'node:stream';
import sharp from 'sharp';

/** A 100-megapixel photo is beyond any phone; a "picture" of more is an attack on memory. */
const LARGEST_PIXELS = 100_000_000;

sharp.concurrency(1);
sharp.cache(false);

export interface PictureFacts {
  readonly widthPx: number;
  readonly heightPx: number;
  /** From EXIF, as the camera's own clock had it. */
  readonly capturedAt: Date | null;
}

/** Decodes the whole picture once, so that what is kept can be shown. Throws where it can't be decoded. */
export async function inspectPicture(bytes: Readable): Promise<PictureFacts> {
  const image = sharp({ limitInputPixels: LARGEST_PIXELS, failOn: 'error' });
  bytes.on('error', (error) => image.destroy(error));
  bytes.pipe(image);
  const metadata = await image.metadata();
  // stats() reads every pixel: a truncated or broken picture fails here and not on the page.
  await image.clone().stats();
  const turned = (metadata.orientation ?? 1) >= 5;
  return {
    widthPx: turned ? metadata.height : metadata.width,
    heightPx: turned ? metadata.width : metadata.height,
    capturedAt: metadata.exif === undefined ? null : exifTime(metadata.exif),
  };
}

/** DateTimeOriginal (tag 0x9003) is kept as ASCII 'YYYY:MM:DD HH:MM:SS' in the EXIF block. */
export function exifTime(exif: Buffer): Date | null {
  const found = /(\d{4}):(\d{2}):(\d{2}) (\d{2}):(\d{2}):(\d{2})/.exec(exif.toString('latin1'));
  if (found === null) return null;
  const [, year, month, day, hour, minute, second] = found;
  const time = new Date(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`);
  return Number.isNaN(time.getTime()) ? null : time;
}

export type PreviewWidth = 320 | 1280;

/** Upright, smaller, and without the camera's metadata: sharp writes none unless told to. */
export function makePreview(bytes: Readable, width: PreviewWidth): Readable {
  const image = sharp({ limitInputPixels: LARGEST_PIXELS })
    .rotate()
    .resize({ width, withoutEnlargement: true })
    .webp({ quality: 78 });
  bytes.on('error', (error) => image.destroy(error));
  return bytes.pipe(image);
}
