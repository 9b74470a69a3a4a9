import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { removeMember } from '../../../src/people/memberships/service.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { testPdf } from '../../support/test-files.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { boxesOf } from '../schedule/house.ts';

/** Who types an address that is not theirs. */
let site: Site;
const logged: string[] = [];
beforeAll(async () => {
  site = await buildSite({ LOG_LEVEL: 'warn' }, { write: (line) => void logged.push(line) });
  await site.issue();
  logged.length = 0;
});
afterAll(() => site.test.close());

const events = () => site.test.deps.prisma.event.count({ where: { projectId: site.projectId } });

describe('scenario 11: the owner types the engineer’s marking address', () => {
  it('is refused, and the answer tells nothing of the record', async () => {
    const before = await events();
    const { id: versionId, hash } = await site.test.deps.prisma.version.findFirstOrThrow({
      where: { itemId: site.items.Beam! },
    });
    const shown = { [`shown.${versionId}`]: `${hash}|1` };
    const answer = await site.owner.post(`${site.inProject}/marks`, {
      ...shown,
      word: 'withdrawn',
      reason: 'x',
    });
    expect(answer.statusCode).toBe(403);
    expect(answer.body).toContain('Your role in this project does not include that.');
    for (const secret of [hash, versionId, 'Eng Ineer', 'Con Tractor', 'Beam']) {
      expect(answer.body).not.toContain(secret);
    }
    // An address that never was answers the same to this person.
    const nowhere = await site.owner.post(`${site.inProject}/marks`, {
      [`shown.${randomUUID()}`]: `${'0'.repeat(64)}|0`,
      word: 'approved',
    });
    expect(nowhere.statusCode).toBe(403);
    expect(await events()).toBe(before);
    // The operator reads of both which line of the table, who, where, and the number that the page names; and nothing
    // of the form.
    const told = logged.map((line) => JSON.parse(line) as Record<string, unknown>);
    for (const [place, response] of [answer, nowhere].entries()) {
      expect(told[place]).toMatchObject({
        level: 40,
        msg: 'refused by the permission table',
        action: 'mark.create',
        personId: site.owner.personId,
        projectId: site.projectId,
        role: 'owner',
      });
      expect(response.body).toContain(`Request ${String(told[place]!.reqId)}`);
    }
    expect(told).toHaveLength(2);
    expect(logged.join('')).not.toContain(hash);
  });

  it('is not logged where the table lets the person in', async () => {
    logged.length = 0;
    expect((await site.owner.get(site.inProject)).statusCode).toBe(200);
    expect(logged).toEqual([]);
  });
});

describe('scenario 12: a contractor of another project guesses a drawing’s link', () => {
  it('gets the answer of a link that does not exist', async () => {
    const sent = await site.contractor.upload(
      `${site.inProject}/attachments`,
      { subject: 'opening', subjectId: site.openingId, caption: 'Plan', back: site.inOpening },
      [{ field: 'file', ...testPdf() }],
    );
    expect(sent.statusCode).toBe(303);
    const { id } = await site.test.deps.prisma.attachment.findFirstOrThrow();
    const other = await site.test.person('El Sewhere');
    const { projectId: elsewhere } = await createProject(site.test.deps, other, {
      name: 'Another',
      address: '2 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    const bare = (body: string, ...ids: string[]) =>
      ids
        .reduce((text, one) => text.replaceAll(one, 'ID'), body)
        .replaceAll(/value="[^"]{20,}"/g, 'value=""')
        // The number of the request, for who asks the operator.
        .replace(/Request [0-9a-f-]{36}/, 'Request');
    for (const [project, rest] of [
      [site.projectId, ''],
      [site.projectId, '/sheet'],
      [site.projectId, '/preview/320'],
      [elsewhere, ''],
      [elsewhere, '/sheet'],
    ] as const) {
      const invented = randomUUID();
      const guessed = await other.get(`/projects/${project}/attachments/${id}${rest}`);
      const nothing = await other.get(`/projects/${project}/attachments/${invented}${rest}`);
      expect(guessed.statusCode).toBe(404);
      expect(bare(guessed.body, id, invented)).toBe(bare(nothing.body, id, invented));
      expect(guessed.headers['content-type']).toBe(nothing.headers['content-type']);
    }
  });
});

describe('scenario 13: a membership ends, and an old tab saves', () => {
  it('is refused at once, on every address, and nothing is saved', async () => {
    const second = await site.test.person('Sec Ond');
    await site.test.join(second, site.projectId, 'contractor');
    const page = `${site.inProject}/items/${site.items.Survey!}`;
    const form = boxesOf((await second.get(`${page}/edit`)).body);
    const { id: membershipId } = await site.test.deps.prisma.membership.findFirstOrThrow({
      where: { personId: second.personId, projectId: site.projectId },
    });
    await removeMember(site.test.deps, site.actor(site.contractor, 'contractor'), { membershipId });
    const before = await events();
    const saved = await second.post(`${page}/versions`, { ...form, wallLengthIn: `14'-3"`, _reason: 'late' });
    expect(saved.statusCode).toBe(404);
    for (const url of [page, site.inOpening, site.inProject]) {
      expect((await second.get(url)).statusCode).toBe(404);
    }
    expect(await events()).toBe(before);
    expect(await site.test.deps.prisma.version.count({ where: { itemId: site.items.Survey! } })).toBe(1);
    // The name stays in the log.
    const log = await site.contractor.get(`${site.inProject}/log`);
    expect(log.statusCode).toBe(200);
    expect(log.body).toContain('Sec Ond');
  });
});
