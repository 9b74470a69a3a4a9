import sharp from 'sharp';
import { demoTimeZone } from '../cinder-ferry.ts';
import { clockAt } from '../story-time.ts';
import { scenes, type Scene } from './scenes.ts';

export type { Scene } from './scenes.ts';

const WIDTH = 960;
const HEIGHT = 720;

/**
 * A picture that stands for a photo taken on site: drawn, slightly tilted, and marked as made for the demo.
 *
 * @param seed tells two pictures of the same scene apart, as two photos of one thing differ
 * @returns a JPEG with the capture time in its EXIF data
 */
export async function demoPhoto(scene: Scene, takenAt: Date, seed: number): Promise<Buffer> {
  const clock = clockAt(takenAt, demoTimeZone);
  const tilt = ((seed * 37) % 5) - 2;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1200 900" width="${WIDTH}" height="${HEIGHT}">
<defs>
<linearGradient id="lamp" x1="0" y1="0" x2="1" y2="1"><stop offset="0" stop-color="#fff3d6" stop-opacity=".55"/><stop offset="1" stop-color="#20180f" stop-opacity=".5"/></linearGradient>
</defs>
<rect width="1200" height="900" fill="#8d8273"/>
<g transform="rotate(${tilt * 0.4} 600 450) scale(1.03) translate(-18 -14)">${scenes[scene]}</g>
<rect width="1200" height="900" fill="url(#lamp)"/>
<rect y="846" width="1200" height="54" fill="#14110d" opacity=".78"/>
<text x="24" y="882" font-family="DejaVu Sans, sans-serif" font-size="26" fill="#f5ead2">DEMO, drawn, not a photograph · ${clock.slice(0, 10)}</text>
</svg>`;
  const stamp = clock.replaceAll('-', ':').replace('T', ' ');
  return sharp(Buffer.from(svg))
    .jpeg({ quality: 75 })
    .withExif({ IFD0: { ImageDescription: 'Demo picture' }, IFD2: { DateTimeOriginal: stamp } })
    .toBuffer();
}
