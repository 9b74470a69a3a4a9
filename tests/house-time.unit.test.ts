import { describe, expect, it } from 'vitest';
import { dayOf, dayText, isTimeZone, longDayText, minuteText } from '../src/house-time.ts';

const inHouse = 'America/Los_Angeles';

describe('the day in a house', () => {
  it.each([
    // Pacific Standard Time, 8 hours behind UTC.
    ['2026-11-26T07:59:59.999Z', '2026-11-25'],
    ['2026-11-26T08:00:00.000Z', '2026-11-26'],
    // Six in the evening.
    ['2026-11-27T02:00:00.000Z', '2026-11-26'],
    // March 8 has 23 hours, November 1 has 25.
    ['2026-03-08T07:59:59.999Z', '2026-03-07'],
    ['2026-03-08T08:00:00.000Z', '2026-03-08'],
    ['2026-03-09T06:59:59.999Z', '2026-03-08'],
    ['2026-03-09T07:00:00.000Z', '2026-03-09'],
    ['2026-11-01T06:59:59.999Z', '2026-10-31'],
    ['2026-11-01T07:00:00.000Z', '2026-11-01'],
    ['2026-11-02T07:59:59.999Z', '2026-11-01'],
    ['2026-11-02T08:00:00.000Z', '2026-11-02'],
    // The turn of a year, and February 29.
    ['2027-01-01T07:00:00.000Z', '2026-12-31'],
    ['2028-03-01T07:00:00.000Z', '2028-02-29'],
  ])('at %s is %s in Los Angeles', (at, day) => {
    expect(dayOf(new Date(at), inHouse)).toBe(day);
  });

  it('is another one elsewhere at the same moment', () => {
    const at = new Date('2026-11-26T11:00:00Z');
    expect(dayOf(at, 'UTC')).toBe('2026-11-26');
    expect(dayOf(at, 'Pacific/Pago_Pago')).toBe('2026-11-26');
    expect(dayOf(at, 'Pacific/Kiritimati')).toBe('2026-11-27');
    expect(dayOf(new Date('2026-11-26T10:59:59Z'), 'Pacific/Pago_Pago')).toBe('2026-11-25');
  });
});

describe('times in a house', () => {
  it('name the zone, which changes with the season where the clock does', () => {
    expect(minuteText(new Date('2026-05-10T01:05:00Z'), inHouse)).toBe('May 9, 2026, 6:05 PM PDT');
    expect(minuteText(new Date('2026-11-26T01:05:00Z'), inHouse)).toBe('Nov 25, 2026, 5:05 PM PST');
    expect(minuteText(new Date('2026-05-10T01:05:00Z'), 'America/Phoenix')).toBe('May 9, 2026, 6:05 PM MST');
    expect(minuteText(new Date('2026-05-10T01:05:00Z'), 'UTC')).toBe('May 10, 2026, 1:05 AM UTC');
  });

  it('are told by the day, short and long', () => {
    const at = new Date('2026-11-26T01:05:00Z');
    expect([dayText(at, inHouse), longDayText(at, inHouse)]).toEqual(['Nov 25, 2026', 'November 25, 2026']);
  });
});

it('takes for a zone what clocks here know by any name', () => {
  expect(['UTC', 'America/Indiana/Indianapolis', 'Asia/Kolkata'].every(isTimeZone)).toBe(true);
  expect(['', 'Mars/Olympus', null, undefined, 7].some(isTimeZone)).toBe(false);
});
