import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formOwnerToken, readFormOwner } from '../../../src/people/kept-forms/owner.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { boxesOf, openHouse, wordsOf, type House } from '../../record/schedule/house.ts';
import type { Client } from '../../support/app.ts';
import { expire as endSession, nextOf, signInAs as signIn } from './session.ts';

let house: House;
beforeAll(async () => {
  house = await openHouse();
  await submitVersions(house.test.deps, house.contractorActor, { openingId: house.openingId });
});
afterAll(() => house.test.close());

const expire = (client: Client) => endSession(house.test, client);
const signInAs = (browser: Client, person: Client, next: string) => signIn(house.test, browser, person, next);
const kept = () => house.test.deps.prisma.keptForm.count();

async function item(kind: 'beam' | 'support', key: string) {
  const { id } = await house.test.deps.prisma.item.findFirstOrThrow({
    where: { openingId: house.openingId, kind, key },
    select: { id: true },
  });
  return `/projects/${house.projectId}/items/${id}`;
}

/** What a page's lists have chosen; `boxesOf` reads the other boxes. */
function chosenOf(body: string): Record<string, string> {
  return Object.fromEntries(
    [...body.matchAll(/<select[^>]*\bname="([^"]+)"[\s\S]*?<\/select>/g)].flatMap(([list, name = '']) => {
      const chosen = /<option value="([^"]*)" selected/.exec(list)?.[1];
      return chosen === undefined ? [] : [[name, chosen]];
    }),
  );
}

describe('a form sent after its session ended', () => {
  it('comes back filled after signing in, once, and nothing was done with it', async () => {
    const { contractor, test } = house;
    const url = await item('beam', 'beam');
    const { body } = await contractor.get(`${url}/edit`);
    const boxes = { ...chosenOf(body), ...boxesOf(body) };
    expect(boxes._owner).toBeDefined();
    await expire(contractor);
    const versions = await test.deps.prisma.version.count();
    const answer = await contractor.post(`${url}/versions`, {
      ...boxes,
      bearingLeftIn: '4 3/16"',
      _reason: 'Longer bearing <left>',
      do: 'save',
    });
    expect(answer.statusCode).toBe(303);
    const next = nextOf(answer.headers.location);
    expect(next).toMatch(/\/edit\?kept=[0-9a-f]{16}$/);
    const cookie = answer.cookies.find(({ name }) => name === 'lintelbook-kept');
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Lax', maxAge: 4 * 3600 });
    const signIn = await contractor.get(String(answer.headers.location));
    expect(wordsOf(signIn.body)).toContain('Your session had ended; nothing was recorded');
    // Only whoever holds the cookie can read it, the database can't.
    const [row] = await test.deps.prisma.keptForm.findMany();
    expect(Buffer.from(row!.body, 'base64').toString('latin1')).not.toContain('Longer bearing');
    expect(row!.id).not.toBe(cookie!.value);

    const signedIn = await signInAs(contractor, contractor, next);
    expect(signedIn.headers.location).toBe(next);
    const page = await contractor.get(next);
    expect(wordsOf(page.body)).toContain('is back in the form. Nothing was recorded yet');
    const back = { ...chosenOf(page.body), ...boxesOf(page.body) };
    expect(back.bearingLeftIn).toBe('4 3/16"');
    expect(back._reason).toBe('Longer bearing <left>');
    expect(back._expected).toBe(boxes._expected);
    expect(await kept()).toBe(0);
    expect(await test.deps.prisma.version.count()).toBe(versions);
    // From here on it is the person's draft.
    expect(boxesOf((await contractor.get(`${url}/edit`)).body).bearingLeftIn).toBe('4 3/16"');
    const saved = await contractor.post(`${url}/versions`, { ...back, do: 'save' });
    expect(saved.statusCode).toBe(303);
    expect(await test.deps.prisma.version.count()).toBe(versions + 1);
  });

  it('is never shown to another person who signs in on the same browser', async () => {
    const { engineer } = house;
    const second = await house.test.person('M. B.');
    await house.test.join(second, house.projectId, 'engineer');
    const url = await item('support', 'left');
    const form = boxesOf((await engineer.get(url)).body);
    await expire(engineer);
    const answer = await engineer.post(`/projects/${house.projectId}/marks`, {
      ...form,
      word: 'returned',
      reason: 'For K. O. alone',
    });
    const next = nextOf(answer.headers.location);
    expect(next).toMatch(new RegExp(`^${url}\\?kept=`));
    await signInAs(engineer, second, next);
    const other = await engineer.get(next);
    expect(other.statusCode).toBe(200);
    expect(wordsOf(other.body)).toContain('M. B.');
    expect(other.body).not.toContain('For K. O. alone');
    expect(other.body).not.toContain('is back in the form');
    expect(await kept()).toBe(1);
    // The one who wrote it still finds it, on that browser, and nowhere else.
    await engineer.post('/sign-out');
    const elsewhere = house.test.visitor();
    await signInAs(elsewhere, house.engineer, next);
    expect((await elsewhere.get(next)).body).not.toContain('For K. O. alone');
    await signInAs(engineer, house.engineer, next);
    expect((await engineer.get(next)).body).toContain('>For K. O. alone</textarea>');
    expect(await kept()).toBe(0);
    expect(await house.test.deps.prisma.mark.count()).toBe(0);
  });

  it('is kept of questions and of the review, and of nothing that has no page for it', async () => {
    const { engineer, projectId, openingId } = house;
    const url = await item('support', 'left');
    const page = await engineer.get(url);
    const owner = boxesOf(page.body)._owner!;
    await expire(engineer);
    const asked = nextOf(
      (await engineer.post(`${url}/questions`, { _owner: owner, text: 'Which species?' })).headers.location,
    );
    const review = `/projects/${projectId}/openings/${openingId}/review`;
    const { id } = await house.test.deps.prisma.item.findFirstOrThrow({
      where: { openingId, kind: 'support' },
    });
    // Saved anew since, and not handed over: it waits no more.
    const beam = await house.test.deps.prisma.item.findFirstOrThrow({ where: { openingId, kind: 'beam' } });
    const reviewed = nextOf(
      (
        await engineer.post(review, {
          _owner: owner,
          [`word.${id}`]: 'returned',
          [`reason.${id}`]: 'Too deep',
          [`word.${beam.id}`]: 'approved',
          [`reason.${beam.id}`]: 'A fine beam',
        })
      ).headers.location,
    );
    const gone = await engineer.post('/sign-out', { _owner: owner });
    expect(nextOf(gone.headers.location)).toBe('/');
    expect(await kept()).toBe(2);
    await signInAs(engineer, engineer, asked);
    // Two pages were open: each finds its own.
    const back = (await engineer.get(reviewed)).body;
    expect(back).toContain('>Too deep</textarea>');
    expect(wordsOf(back)).toContain('approved, “A fine beam”');
    expect((await engineer.get(asked)).body).toContain('>Which species?</textarea>');
    expect(await kept()).toBe(0);
  });

  it('is not kept for nobody, for a forged person, from another site, or when it is too long', async () => {
    const { contractor } = house;
    const url = await item('beam', 'beam');
    const owner = boxesOf((await contractor.get(`${url}/edit`)).body)._owner!;
    await expire(contractor);
    const send = (fields: Record<string, string>) => contractor.post(`${url}/versions`, fields);
    const forged = `${house.engineer.personId}.${owner.split('.')[1]!}`;
    for (const fields of [
      {},
      { _owner: 'x' },
      { _owner: forged },
      { _owner: owner, a: 'x'.repeat(200_001) },
    ]) {
      const answer = await send({ ...fields, note: 'something' });
      expect(answer.statusCode).toBe(303);
      expect(nextOf(answer.headers.location)).toBe('/');
    }
    const foreign = await contractor.postBare(
      `${url}/versions`,
      { _owner: owner, note: 'something' },
      { 'sec-fetch-site': 'cross-site' },
    );
    expect(foreign.statusCode).toBe(403);
    expect(await kept()).toBe(0);
    // No passwords, no tokens; five at most.
    for (let sent = 0; sent < 7; sent += 1) {
      await send({ _owner: owner, password: 'four words in a row', _csrf: 'x', note: String(sent) });
    }
    expect(await kept()).toBe(5);
    await signInAs(contractor, contractor, '/');
    await house.test.deps.prisma.keptForm.deleteMany();
  });

  it('is gone after its hours', async () => {
    const { contractor, test } = house;
    const url = await item('beam', 'beam');
    const owner = boxesOf((await contractor.get(`${url}/edit`)).body)._owner!;
    await expire(contractor);
    const answer = await contractor.post(`${url}/versions`, { _owner: owner, _reason: 'Yesterday’s words' });
    await test.deps.prisma.keptForm.updateMany({ data: { expiresAt: new Date(Date.now() - 1000) } });
    const next = nextOf(answer.headers.location);
    await signInAs(contractor, contractor, next);
    expect((await contractor.get(next)).body).not.toContain('Yesterday’s words');
    expect(await kept()).toBe(0);
  });

  it('signs whose it is, so that nobody can name somebody else', () => {
    const token = formOwnerToken('secret', 'one');
    expect(readFormOwner('secret', token)).toBe('one');
    expect(readFormOwner('other secret', token)).toBeNull();
    expect(readFormOwner('secret', token.replace('one', 'two'))).toBeNull();
    expect(readFormOwner('secret', undefined)).toBeNull();
  });
});
