import { createRequire } from 'node:module';
import sharp from 'sharp';
import { asPreview } from '../preview-shape.ts';
import { LARGEST_HEIC_PIXELS } from './limits.ts';
import type { DrawTask, FromChild } from './messages.ts';

/**
 * Decodes HEIC photos of strangers (ISO/IEC 23008-12, HEVC inside) by libheif compiled to WebAssembly, in a process of
 * its own: what it costs and what breaks in it is not the service's. libheif applies the turns that the file asks for;
 * the EXIF orientation of such a file says the same once more and is not applied.
 */
interface HeifImage {
  get_width(): number;
  get_height(): number;
  is_primary(): boolean;
  display(
    target: { data: Uint8ClampedArray; width: number; height: number },
    done: (shown: { data: Uint8ClampedArray } | null) => void,
  ): void;
}
interface Heif {
  HeifDecoder: new () => { decode(bytes: Uint8Array): HeifImage[] };
}

async function pixelsOf(
  image: HeifImage,
): Promise<{ data: Uint8ClampedArray; width: number; height: number }> {
  const width = image.get_width();
  const height = image.get_height();
  if (width < 1 || height < 1 || width * height > LARGEST_HEIC_PIXELS) throw new Error('size');
  const data = new Uint8ClampedArray(width * height * 4);
  const shown = await new Promise<{ data: Uint8ClampedArray } | null>((resolve) => {
    image.display({ data, width, height }, resolve);
  });
  if (shown === null) throw new Error('not decoded');
  return { data: shown.data, width, height };
}

async function draw({ bytes, widthPx }: DrawTask): Promise<FromChild> {
  const heif = createRequire(import.meta.url)('libheif-js/wasm-bundle') as Heif;
  const images = new heif.HeifDecoder().decode(bytes);
  const image = images.find((one) => one.is_primary()) ?? images[0];
  if (image === undefined) throw new Error('no picture in it');
  const { data, width, height } = await pixelsOf(image);
  const pixels = sharp(data, { raw: { width, height, channels: 4 } });
  const picture = await asPreview(pixels, widthPx).toBuffer();
  return { say: 'drawn', picture, widthPx: width, heightPx: height };
}

process.once('message', (task: DrawTask) => {
  draw(task).then(
    (answer) => process.send?.(answer),
    () => process.send?.({ say: 'failed' } satisfies FromChild),
  );
});
