import { z } from 'zod';
import { dayOf, dayText, UNTOLD_ZONE } from '../../house-time.ts';

const HOUR_MS = 3_600_000;
const ONE_DAY_MS = 24 * HOUR_MS;

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

/**
 * Has the day not begun in the house yet? Where nobody told its zone: anywhere on earth, since calendars run up to 14
 * hours ahead of UTC, and whoever is right must not be refused.
 */
export function isToCome(day: string, now: Date, timeZone: string): boolean {
  return timeZone === UNTOLD_ZONE ? startOf(day) > now.getTime() + 14 * HOUR_MS : day > dayOf(now, timeZone);
}

/**
 * Was a moment after a day in the house? Where nobody told its zone: in whatever zone it lies, since the last one ends a
 * day 12 hours after UTC, and what is flagged stays flagged.
 */
export function isAfterDay(at: Date, day: string, timeZone: string): boolean {
  return timeZone === UNTOLD_ZONE
    ? at.getTime() >= startOf(day) + ONE_DAY_MS + 12 * HOUR_MS
    : dayOf(at, timeZone) > day;
}

/** Whole days from one day to another. */
export function daysBetween(from: string, to: string): number {
  return Math.round((startOf(to) - startOf(from)) / ONE_DAY_MS);
}

/** 'May 9, 2026' */
export function dayWords(day: string): string {
  return dayText(new Date(startOf(day)), 'UTC');
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
