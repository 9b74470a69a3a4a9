import ical, { ICalEventStatus } from 'ical-generator';

/** A visit, as far as a calendar shows it. */
export interface CalendarVisit {
  readonly visitId: string;
  readonly projectId: string;
  readonly projectName: string;
  readonly address: string;
  readonly openingName: string;
  readonly number: number;
  readonly name: string;
  readonly openedAt: Date;
  readonly closedAt: Date | null;
  readonly outcome: string | null;
}

const HOUR_MS = 3_600_000;

/**
 * The visits as an iCalendar (RFC 5545). The same visits give the same text, byte for byte: the stamp of each is when it
 * last changed. A visit still open is shown for an hour from when it was opened; how long it takes nobody knows yet.
 */
export function calendarText(visits: readonly CalendarVisit[], publicUrl: string): string {
  const calendar = ical({
    name: 'Visits',
    prodId: { company: 'Lintelbook', product: 'Visits', language: 'EN' },
    ttl: HOUR_MS / 1000,
  });
  for (const visit of visits) {
    const { visitId, projectId, number, name, openedAt, closedAt, outcome } = visit;
    const outcomeWords = outcome === null ? 'Open.' : `Closed: ${outcome.replaceAll('_', ' ')}.`;
    calendar.createEvent({
      id: `${visitId}@${new URL(publicUrl).hostname}`,
      start: openedAt,
      end: closedAt ?? new Date(openedAt.getTime() + HOUR_MS),
      stamp: closedAt ?? openedAt,
      sequence: closedAt === null ? 0 : 1,
      status: ICalEventStatus.CONFIRMED,
      summary: `${name}, visit ${number}: ${visit.openingName}`,
      description: `${visit.projectName}. ${outcomeWords}`,
      ...(visit.address === '' ? {} : { location: visit.address }),
      url: `${publicUrl}/projects/${projectId}/visits/${visitId}`,
    });
  }
  return `${calendar.toString().replace(/\r?\n$/, '')}\r\n`;
}
