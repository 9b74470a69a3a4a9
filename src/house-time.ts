/**
 * Days and times as the clock in a house has them. Whoever logs work at six in the evening in California means that day,
 * though the one of UTC has ended.
 */

/** The zone of a house whose clock nobody told: it was there before houses had one. */
export const UNTOLD_ZONE = 'UTC';

/** A form is made once for each zone: making one costs many times what it costs to use. */
function inZones(options: Intl.DateTimeFormatOptions): (timeZone: string) => Intl.DateTimeFormat {
  const made = new Map<string, Intl.DateTimeFormat>();
  return (timeZone) => {
    const there = made.get(timeZone) ?? new Intl.DateTimeFormat('en-US', { ...options, timeZone });
    made.set(timeZone, there);
    return there;
  };
}

const numbers = inZones({ year: 'numeric', month: '2-digit', day: '2-digit' });

/** The day at a moment, as a date box has it: 2026-05-09. */
export function dayOf(at: Date, timeZone: string): string {
  const [month, day, year] = numbers(timeZone).format(at).split('/');
  return `${year}-${month}-${day}`;
}

const minutes = inZones({
  year: 'numeric',
  month: 'short',
  day: 'numeric',
  hour: 'numeric',
  minute: '2-digit',
  timeZoneName: 'short',
});
const days = inZones({ dateStyle: 'medium' });
const longDays = inZones({ dateStyle: 'long' });

/** 'May 9, 2026, 6:05 PM PDT': with the zone, since records of several people are read in several places. */
export const minuteText = (at: Date, timeZone: string): string => minutes(timeZone).format(at);
/** 'Nov 9, 2026' */
export const dayText = (at: Date, timeZone: string): string => days(timeZone).format(at);
/** 'November 9, 2026' */
export const longDayText = (at: Date, timeZone: string): string => longDays(timeZone).format(at);

/** Whether it names a zone that the clocks here know, by any of its names. */
export function isTimeZone(name: unknown): boolean {
  if (typeof name !== 'string' || name === '') return false;
  try {
    numbers(name);
    return true;
  } catch {
    return false;
  }
}
