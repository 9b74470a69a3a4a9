import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import sharp from 'sharp';
import { namesPlace, readCameraWords, type CameraWords } from './exif.ts';
import { LARGEST_HEIC_PIXELS } from './heic/limits.ts';
import { drawHeic, HeicUnreadable } from './heic/reader.ts';
import { asPreview } from './preview-shape.ts';

/** A 100-megapixel photo is beyond any phone; a "picture" of more is an attack on memory. */
const LARGEST_PIXELS = 100_000_000;
/** Pictures are decoded from memory, so their bytes are bounded apart from those of drawings. */
export const LARGEST_PICTURE_BYTES = 40 * 1024 * 1024;
/** No honest photo takes this long to decode. */
const LONGEST_SECONDS = 20;

sharp.concurrency(1);
sharp.cache(false);

export interface PictureFacts extends CameraWords {
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * A HEIC photo: its head is read here, its picture is decoded in a process of its own.
 * @throws HeicUnreadable where it can't be decoded within the limits
 */
export async function inspectHeic(bytes: Readable): Promise<PictureFacts> {
  const file = await buffer(bytes);
  const { width, height, exif } = await sharp(file, { limitInputPixels: LARGEST_HEIC_PIXELS }).metadata();
  if (width * height > LARGEST_HEIC_PIXELS) throw new HeicUnreadable('The photo is larger than any phone’s.');
  const { widthPx, heightPx } = await drawHeic(file, 32);
  return { widthPx, heightPx, ...readCameraWords(exif) };
}

/** Decodes the whole picture once, so that what is kept can be shown. Throws where it can't be decoded. */
export async function inspectPicture(bytes: Readable): Promise<PictureFacts> {
  const image = sharp({ limitInputPixels: LARGEST_PIXELS, failOn: 'error' });
  bytes.on('error', (error) => image.destroy(error));
  bytes.pipe(image);
  const metadata = await image.metadata();
  // Row by row to something tiny: a truncated or broken picture fails here and not on the page, and the whole
  // of it never lies in memory.
  await image.clone().resize(32, 32).timeout({ seconds: LONGEST_SECONDS }).toBuffer();
  const turned = (metadata.orientation ?? 1) >= 5;
  return {
    widthPx: turned ? metadata.height : metadata.width,
    heightPx: turned ? metadata.width : metadata.height,
    ...readCameraWords(metadata.exif),
  };
}

/** Does the file itself say where the photo was taken? Reads no further than its head. */
export async function carriesPlace(bytes: Readable): Promise<boolean> {
  const image = sharp({ limitInputPixels: LARGEST_PIXELS });
  bytes.on('error', (error) => image.destroy(error));
  bytes.pipe(image);
  try {
    const { exif, xmp } = await image.metadata();
    return namesPlace(exif, xmp);
  } finally {
    bytes.destroy();
  }
}

export type PreviewWidth = 320 | 1280 | 2560;

/** Upright, smaller, and without the camera's metadata: sharp writes none unless told to. */
export async function makePreview(bytes: Readable, width: PreviewWidth): Promise<Buffer> {
  const upright = sharp({ limitInputPixels: LARGEST_PIXELS }).rotate();
  const image = asPreview(upright, width).timeout({ seconds: LONGEST_SECONDS });
  bytes.on('error', (error) => image.destroy(error));
  return bytes.pipe(image).toBuffer();
}
