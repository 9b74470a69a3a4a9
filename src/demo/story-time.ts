import { dayOf } from '../house-time.ts';

const ONE_DAY_MS = 86_400_000;

/** Some days later in the calendar, or earlier. */
export function daysAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * ONE_DAY_MS).toISOString().slice(0, 10);
}

/** What a clock shows at a moment, as a camera keeps it: 2026-05-09T18:05:00. */
export function clockAt(at: Date, timeZone: string): string {
  const time = new Intl.DateTimeFormat('en-GB', { timeStyle: 'medium', timeZone }).format(at);
  return `${dayOf(at, timeZone)}T${time}`;
}

/** The moment at which a clock shows a full hour of a day. Of daytime: an hour of a night in which it is put on may not be. */
export function momentAt(day: string, hour: number, timeZone: string): Date {
  const shown = Date.parse(`${day}T${String(hour).padStart(2, '0')}:00:00Z`);
  const aheadAt = (at: number) => Date.parse(`${clockAt(new Date(at), timeZone)}Z`) - at;
  // Ahead of UTC by so much about then, and, where the clock was put on or back meanwhile, at that very moment.
  return new Date(shown - aheadAt(shown - aheadAt(shown)));
}
