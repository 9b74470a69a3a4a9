import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { namesPlace } from '../../src/attachments/exif.ts';

const plain = sharp({ create: { width: 8, height: 8, channels: 3, background: '#333333' } });

describe('a place in a photo’s blocks', () => {
  it('is found in EXIF', async () => {
    const gps = { GPSLatitudeRef: 'S', GPSLatitude: '1/1 2/1 3/1' };
    const bytes = await plain.clone().withExif({ IFD3: gps }).jpeg().toBuffer();
    expect(namesPlace((await sharp(bytes).metadata()).exif, undefined)).toBe(true);
  });

  it('is found in XMP', () => {
    const xmp = Buffer.from('<rdf:Description exif:GPSLatitude="44,30.0N"/>');
    expect(namesPlace(undefined, xmp)).toBe(true);
  });

  it('is not found where there is none', async () => {
    const bytes = await plain
      .clone()
      .withExif({ IFD0: { Model: 'A camera' } })
      .jpeg()
      .toBuffer();
    const { exif } = await sharp(bytes).metadata();
    expect(exif).toBeDefined();
    expect(namesPlace(exif, Buffer.from('<x:xmpmeta/>'))).toBe(false);
    expect(namesPlace(undefined, undefined)).toBe(false);
  });

  it('is feared where the block can’t be read', () => {
    expect(namesPlace(Buffer.from('no exif at all'), undefined)).toBe(true);
  });
});
