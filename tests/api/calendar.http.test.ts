import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildSite, type Site } from '../inspection/support/site.ts';

/** The feed of visits, read by a few lines that know RFC 5545 and nothing of ours. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
  await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
});
afterAll(() => site.test.close());

interface Parsed {
  properties: Record<string, string>;
  events: Record<string, string>[];
}

/** RFC 5545, sections 3.1 (lines end in CRLF, are folded at 75 octets) and 3.3.11 (escaped texts). */
function parse(text: string): Parsed {
  expect(text.endsWith('\r\n')).toBe(true);
  expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  const lines = text
    .replaceAll(/\r\n[ \t]/g, '')
    .split('\r\n')
    .slice(0, -1);
  expect(lines[0]).toBe('BEGIN:VCALENDAR');
  expect(lines.at(-1)).toBe('END:VCALENDAR');
  const parsed: Parsed = { properties: {}, events: [] };
  let at = parsed.properties;
  for (const line of lines.slice(1, -1)) {
    const [, name = '', value = ''] = /^([A-Z-]+)(?:;[^:]*)?:(.*)$/.exec(line) ?? [];
    expect(name, line).not.toBe('');
    if (name === 'BEGIN') {
      expect(value).toBe('VEVENT');
      parsed.events.push((at = {}));
    } else if (name === 'END') at = parsed.properties;
    else at[name] = value.replaceAll(/\\([\\;,nN])/g, (_, one: string) => (/n/i.test(one) ? '\n' : one));
  }
  return parsed;
}

const get = (url: string, headers: Record<string, string> = {}) =>
  site.test.app.inject({ method: 'GET', url, headers });

async function addressOf(person = site.inspector): Promise<string> {
  const page = await person.post('/account/calendar');
  const address = /value="[^"]*(\/calendar\/[\w-]{43})"/.exec(page.body)?.[1];
  if (address === undefined) throw new Error('no address');
  return address;
}

describe('a person’s calendar', () => {
  it('holds their visits, in the form of RFC 5545', async () => {
    const answer = await get(await addressOf());
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-type']).toBe('text/calendar; charset=utf-8');
    const { properties, events } = parse(answer.body);
    expect(properties.VERSION).toBe('2.0');
    expect(properties.PRODID).toBeTruthy();
    const visit = await site.test.deps.prisma.visit.findFirstOrThrow();
    const stamp = (at: Date) => at.toISOString().replaceAll(/[-:]|\.\d+/g, '');
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({
      UID: `${visit.id}@localhost`,
      DTSTART: stamp(visit.openedAt),
      DTSTAMP: stamp(visit.openedAt),
      SUMMARY: 'Framing, before cover, visit 1: Den wall',
      DESCRIPTION: 'Den to box room. Open.',
      LOCATION: '12 Slipway Row',
    });
  });

  it('is the same, byte for byte, until something changes', async () => {
    const address = await addressOf();
    const first = await get(address);
    const known = { 'if-none-match': String(first.headers.etag) };
    expect((await get(address, known)).statusCode).toBe(304);
    const visit = await site.test.deps.prisma.visit.findFirstOrThrow();
    const closed = await site.inspector.post(`${site.inProject}/visits/${visit.id}/closing`, {
      outcome: 'no_access',
      summary: 'Locked.',
      signedName: 'In Spector',
    });
    expect(closed.statusCode).toBe(303);
    const later = await get(address, known);
    expect(later.statusCode).toBe(200);
    expect(parse(later.body).events[0]).toMatchObject({
      DESCRIPTION: 'Den to box room. Closed: no access.',
      SEQUENCE: '1',
    });
  });

  it('ends with its address, with the one made after it, and with the membership', async () => {
    const first = await addressOf();
    const second = await addressOf();
    expect((await get(first)).statusCode).toBe(404);
    expect((await get(second)).statusCode).toBe(200);
    await site.inspector.post('/account/calendar/end');
    expect((await get(second)).statusCode).toBe(404);

    const guest = await site.test.person('Gu Est');
    await site.test.join(guest, site.projectId, 'engineer');
    const theirs = await addressOf(guest);
    expect(parse((await get(theirs)).body).events).toHaveLength(1);
    const { prisma } = site.test.deps;
    await prisma.membership.updateMany({
      where: { personId: guest.personId },
      data: { revokedAt: new Date() },
    });
    expect(parse((await get(theirs)).body).events).toHaveLength(0);
  });

  it('shows no visit to whom the project shows none, and nothing at an address that nobody made', async () => {
    expect(parse((await get(await addressOf(site.owner))).body).events).toHaveLength(0);
    expect(parse((await get(await addressOf(await site.test.person('Stranger')))).body).events).toHaveLength(
      0,
    );
    for (const token of ['x', 'A'.repeat(43), '%00']) {
      expect((await get(`/calendar/${token}`)).statusCode).toBe(404);
    }
  });

  it('keeps the address nowhere but as its hash', async () => {
    const address = await addressOf();
    const rows = await site.test.deps.prisma.calendarAddress.findMany();
    expect(JSON.stringify(rows)).not.toContain(address.split('/').at(-1));
    expect((await site.inspector.get('/account/calendar')).body).not.toContain(address);
  });
});
