import nunjucks from 'nunjucks';

/** With the zone: records of several people are read in several places. The zone is that of the service. */
const minute = new Intl.DateTimeFormat('en-US', {
  year: 'numeric',
  month: 'short',
  day: 'numeric',
  hour: 'numeric',
  minute: '2-digit',
  timeZoneName: 'short',
});
/** Without a zone: a camera does not say in which one its clock ran, so what it wrote is kept as if in UTC. */
const camera = new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone: 'UTC' });
const day = new Intl.DateTimeFormat('en-US', { dateStyle: 'medium' });

export const minuteText = (value: Date | string): string => minute.format(new Date(value));
export const cameraText = (value: Date | string): string => camera.format(new Date(value));
export const dayText = (value: Date | string): string => day.format(new Date(value));

/**
 * A moment in markup: `src/web/assets/moments.js` writes it in the reader's own zone; without script the service's
 * stands. Marked as safe, since nothing but a date gets in: what is none throws.
 */
function marked(shows: 'minute' | 'day', text: (value: Date | string) => string) {
  return (value: Date | string) =>
    new nunjucks.runtime.SafeString(
      `<time datetime="${new Date(value).toISOString()}" data-moment="${shows}">${text(value)}</time>`,
    );
}

export const moment = marked('minute', minuteText);
export const momentDay = marked('day', dayText);
