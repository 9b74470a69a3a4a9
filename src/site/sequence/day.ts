import { z } from 'zod';

const ONE_DAY_MS = 86_400_000;

/** A day of the site's calendar, as a date box sends it: 2026-05-09. Not a moment: a site has one calendar, not one clock. */
export const daySchema = z
  .string()
  .trim()
  .regex(/^\d{4}-\d{2}-\d{2}$/, 'Give the day, as 2026-05-09.')
  .refine(isRealDay, 'There is no such day.');

function isRealDay(day: string): boolean {
  const at = new Date(`${day}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().slice(0, 10) === day;
}

/** The day at a moment, in UTC. */
export function dayOf(at: Date): string {
  return at.toISOString().slice(0, 10);
}

/** Has the day not begun anywhere on earth yet? Calendars run up to 14 hours ahead of UTC. */
export function isToCome(day: string, now: Date): boolean {
  return startOf(day) > now.getTime() + 14 * 3_600_000;
}

/** Was a moment surely after a day, in whatever time zone the site lies? The last zone ends a day 12 hours after UTC. */
export function isAfterDay(at: Date, day: string): boolean {
  return at.getTime() >= startOf(day) + ONE_DAY_MS + 12 * 3_600_000;
}

/** Whole days from one day to another. */
export function daysBetween(from: string, to: string): number {
  return Math.round((startOf(to) - startOf(from)) / ONE_DAY_MS);
}

/** 'May 9, 2026' */
export function dayWords(day: string): string {
  return new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeZone: 'UTC' }).format(startOf(day));
}

/** 'Sat, May 9, 2026', for whoever lives by the days of the week. */
export function weekdayWords(day: string): string {
  const shown = {
    weekday: 'short',
    month: 'short',
    day: 'numeric',
    year: 'numeric',
    timeZone: 'UTC',
  } as const;
  return new Intl.DateTimeFormat('en-US', shown).format(startOf(day));
}

function startOf(day: string): number {
  return Date.parse(`${day}T00:00:00Z`);
}
