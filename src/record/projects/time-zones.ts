import { z } from 'zod';
import type { OptionGroup } from '../../web/forms/spec.ts';

/** Zones in the words that people who live there use; the others go by the name of their city. */
const nearby: readonly OptionGroup[] = [
  {
    heading: 'United States',
    options: [
      { value: 'America/New_York', text: 'Eastern (New York)' },
      { value: 'America/Chicago', text: 'Central (Chicago)' },
      { value: 'America/Denver', text: 'Mountain (Denver)' },
      { value: 'America/Phoenix', text: 'Arizona (no daylight saving)' },
      { value: 'America/Los_Angeles', text: 'Pacific (Los Angeles)' },
      { value: 'America/Anchorage', text: 'Alaska (Anchorage)' },
      { value: 'Pacific/Honolulu', text: 'Hawaii (no daylight saving)' },
      { value: 'America/Puerto_Rico', text: 'Puerto Rico (no daylight saving)' },
      { value: 'Pacific/Guam', text: 'Guam (no daylight saving)' },
    ],
  },
  {
    heading: 'Canada',
    options: [
      { value: 'America/St_Johns', text: 'Newfoundland (St. John’s)' },
      { value: 'America/Halifax', text: 'Atlantic (Halifax)' },
      { value: 'America/Toronto', text: 'Eastern (Toronto)' },
      { value: 'America/Winnipeg', text: 'Central (Winnipeg)' },
      { value: 'America/Regina', text: 'Saskatchewan (no daylight saving)' },
      { value: 'America/Edmonton', text: 'Mountain (Edmonton)' },
      { value: 'America/Vancouver', text: 'Pacific (Vancouver)' },
    ],
  },
];

const inWords = new Map(nearby.flatMap(({ options }) => options).map(({ value, text }) => [value, text]));
const known: ReadonlySet<string> = new Set([...Intl.supportedValuesOf('timeZone'), 'UTC']);

/** 'Pacific (Los Angeles)', 'Salta (America, Argentina)': the city first, so that typing it in a list finds it. */
export function zoneWords(timeZone: string): string {
  const words = inWords.get(timeZone);
  if (words !== undefined) return words;
  const parts = timeZone.replaceAll('_', ' ').split('/');
  const city = parts.pop() ?? timeZone;
  return parts.length === 0 ? city : `${city} (${parts.join(', ')})`;
}

/** Every zone that a house can be in, those of North America first. */
export const zoneChoices: readonly OptionGroup[] = [
  ...nearby,
  {
    heading: 'Elsewhere, by city',
    options: [...known]
      .filter((timeZone) => !inWords.has(timeZone))
      .map((timeZone) => ({ value: timeZone, text: zoneWords(timeZone) }))
      .sort((one, other) => one.text.localeCompare(other.text, 'en')),
  },
];

export const timeZoneSchema = z
  .string()
  .refine((timeZone) => known.has(timeZone), 'Choose the time zone of the house.');
