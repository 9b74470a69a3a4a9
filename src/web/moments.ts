import nunjucks from 'nunjucks';
import { dayText, minuteText } from '../house-time.ts';

/** Of the service. Pages are read by people of several houses, and a part of a page does not know whose it is. */
const here = new Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Without a zone: a camera does not say in which one its clock ran, so what it wrote is kept as if in UTC. */
const camera = new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone: 'UTC' });
export const cameraText = (value: Date | string): string => camera.format(new Date(value));

/**
 * A moment in markup: `src/web/assets/moments.js` writes it in the reader's own zone; without script the service's
 * stands. Marked as safe, since nothing but a date gets in: what is none throws.
 */
function marked(shows: 'minute' | 'day', text: (at: Date, timeZone: string) => string) {
  return (value: Date | string) => {
    const at = new Date(value);
    return new nunjucks.runtime.SafeString(
      `<time datetime="${at.toISOString()}" data-moment="${shows}">${text(at, here)}</time>`,
    );
  };
}

export const moment = marked('minute', minuteText);
export const momentDay = marked('day', dayText);
