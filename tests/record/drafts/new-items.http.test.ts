import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createOpening } from '../../../src/record/openings/service.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import type { Client } from '../../support/app.ts';
import { boxesOf, wordsOf } from '../schedule/house.ts';

/** A new item half filled in: what was typed is kept for whoever typed it, by itself or by a button, until it is saved. */
let site: Site;
let other = '';
beforeAll(async () => {
  site = await buildSite();
  const builder = site.actor(site.contractor, 'contractor');
  other = (await createOpening(site.test.deps, builder, { name: 'Box room wall' })).openingId;
});
afterAll(() => site.test.close());

const address = (kind: string, opening = other) =>
  `${site.inProject}/items/new?${new URLSearchParams({ kind, opening }).toString()}`;
/** The form of a new item as its page has it. */
async function formOf(kind: string, who = site.contractor, opening = other) {
  const { body } = await who.get(address(kind, opening));
  const [form] = new RegExp(`<form [^>]*action="${site.inProject}/items"[^]*?</form>`).exec(body)!;
  return boxesOf(form);
}
/** What the script sends shortly after the last key. */
const autosave = (typed: Record<string, string>, who: Client = site.contractor) =>
  who.post(`${site.inProject}/items/new/draft`, typed);
const drafts = () => site.test.deps.prisma.draft.count({ where: { itemId: null } });

/** One box of each kind in which somebody writes. */
const written = {
  survey: ['wallLengthIn', `14'-2"`],
  beam: ['bearingLeftIn', `3"`],
  support: ['heightIn', `7'-1"`],
  footing: ['foundWidthIn', `16"`],
  hanger: ['_title', 'Hangers, front'],
  fastening: ['where', 'Back face'],
  shoring: ['_title', 'Both storeys'],
  drawing: ['_title', 'Framing of the second floor'],
  service: ['panelLabel', 'Den, north'],
} as const;

describe('the draft of a new item', () => {
  it.each(Object.entries(written))('of the kind %s is there again: %s', async (kind, [box, text]) => {
    const form = await formOf(kind);
    expect(Object.keys(form), `boxes of ${kind}`).toContain(box);
    expect(form[box]).not.toBe(text);
    expect((await autosave({ ...form, [box]: text })).statusCode).toBe(204);
    const page = await site.contractor.get(address(kind));
    expect(wordsOf(page.body)).toContain('did not save is back in the form');
    expect((await formOf(kind))[box]).toBe(text);
    // Nobody else's, and nowhere else's.
    expect((await formOf(kind, site.engineer))[box]).not.toBe(text);
    expect((await formOf(kind, site.contractor, site.openingId))[box]).not.toBe(text);
  });

  it('stands on the page of its opening, for the person alone', async () => {
    const page = `${site.inProject}/openings/${other}`;
    const words = wordsOf((await site.contractor.get(page)).body);
    expect(words).toContain('Begun by you and not saved');
    expect((await site.contractor.get(page)).body).toContain(
      `href="${address('beam').replaceAll('&', '&amp;')}"`,
    );
    expect((await site.engineer.get(page)).body).not.toContain('Begun by you');
    expect((await site.contractor.get(site.inOpening)).body).not.toContain('Begun by you');
  });

  it('is one for each kind and place: the later words stay', async () => {
    const before = await drafts();
    const form = await formOf('beam');
    await autosave({ ...form, bearingLeftIn: `4"` });
    await autosave({ ...form, bearingLeftIn: `5"` });
    expect(await drafts()).toBe(before);
    expect((await formOf('beam')).bearingLeftIn).toBe(`5"`);
  });

  it('of the project’s criteria needs no opening', async () => {
    const { projectId } = await createProject(site.test.deps, site.contractor, {
      name: 'Another house',
      address: '1 Quarry Road',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    const page = `/projects/${projectId}/items/new?kind=criteria`;
    const form = boxesOf((await site.contractor.get(page)).body);
    const box = Object.keys(form).find((name) => /psf/i.test(name))!;
    const sent = await site.contractor.post(`/projects/${projectId}/items/new/draft`, {
      ...form,
      [box]: '31.7',
    });
    expect(sent.statusCode).toBe(204);
    expect(boxesOf((await site.contractor.get(page)).body)[box]).toBe('31.7');
  });

  it('is kept without script: by its button, by a row added, by a refusal and by a calculation', async () => {
    const send = (typed: Record<string, string>) => site.contractor.post(`${site.inProject}/items`, typed);
    const by = {
      draft: [{ do: 'draft' }, 303],
      'a row': [{ do: 'add:strips' }, 200],
      refusal: [{ do: 'save', bearingLeftIn: 'wide' }, 422],
      calculation: [{ do: 'preview' }, 200],
    } as const;
    for (const [name, [press, status]] of Object.entries(by)) {
      await site.test.deps.prisma.draft.deleteMany({ where: { itemId: null } });
      const kind = name === 'a row' ? 'survey' : 'beam';
      const opening = name === 'calculation' ? site.openingId : other;
      const form = await formOf(kind, site.contractor, opening);
      const title = `Beam by ${name}`;
      expect((await send({ ...form, _title: title, ...press })).statusCode, name).toBe(status);
      const back = await formOf(kind, site.contractor, opening);
      expect(back._title, name).toBe(title);
      if (name === 'refusal') expect(back.bearingLeftIn).toBe('wide');
    }
  });

  it('is thrown away by its button, and is done with once the item is saved', async () => {
    const form = await formOf('footing');
    await autosave({ ...form, foundWidthIn: `17"` });
    const { _kind, _opening } = form;
    const gone = await site.contractor.post(`${site.inProject}/items/new/draft`, {
      _kind: _kind!,
      _opening: _opening!,
      do: 'discard',
    });
    expect(gone.statusCode).toBe(303);
    expect((await formOf('footing')).foundWidthIn).not.toBe(`17"`);

    const service = await formOf('service');
    const typed = {
      ...service,
      what: 'circuit',
      breaker: '6',
      amps: '15',
      _title: 'Hall lights',
    };
    await autosave(typed);
    const before = await drafts();
    const saved = await site.contractor.post(`${site.inProject}/items`, { ...typed, do: 'save' });
    expect(saved.statusCode, wordsOf(saved.body).slice(0, 400)).toBe(303);
    expect(await drafts()).toBe(before - 1);
    // What the script sent meanwhile arrives late: it holds what was just saved.
    expect((await autosave(typed)).statusCode).toBe(409);
    expect(await drafts()).toBe(before - 1);
    expect((await formOf('service'))._title).not.toBe('Hall lights');
    // The next one, under its own mark, is kept.
    const next = await formOf('service');
    expect((await autosave({ ...next, _title: 'Dryer' })).statusCode).toBe(204);
  });

  it('leads on, once saved, to what comes next in the opening', async () => {
    const typed = await formOf('shoring', site.contractor, site.openingId);
    const saved = await site.contractor.post(`${site.inProject}/items`, { ...typed, do: 'save' });
    expect(saved.statusCode, wordsOf(saved.body).slice(0, 400)).toBe(303);
    const { body } = await site.contractor.get(saved.headers.location!);
    const next = `${site.inProject}/items/new?kind=footing&amp;opening=${site.openingId}`;
    expect(body).toContain(`is kept as version 1. <a href="${next}">Next: Say what is under the packs`);
    expect((await site.contractor.get(saved.headers.location!)).body).not.toContain('Next: Say');
  });

  it('lands in no other project’s opening, and is kept for nobody who may not make items', async () => {
    const before = await drafts();
    const form = await formOf('support');
    const stranger = await site.test.person('El Sewhere');
    const { projectId } = await createProject(site.test.deps, stranger, {
      name: 'Elsewhere',
      address: '2 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    await stranger.get('/account');
    expect((await autosave(form, stranger)).statusCode).toBe(404);
    expect((await stranger.post(`/projects/${projectId}/items/new/draft`, form)).statusCode).toBe(404);
    for (const _opening of [randomUUID(), 'x', '']) {
      expect((await autosave({ ...form, _opening })).statusCode).toBe(404);
    }
    expect((await autosave({ ...form, _kind: 'nothing' })).statusCode).toBe(404);
    for (const who of [site.inspector, site.owner]) expect((await autosave(form, who)).statusCode).toBe(403);
    expect(await drafts()).toBe(before);
  });

  it('stands back for the beam that the search hands over, and is there afterwards', async () => {
    const form = await formOf('beam');
    await autosave({ ...form, bearingLeftIn: `4 3/4"` });
    const fill = JSON.stringify({ placement: 'dropped', bearingLeftIn: '3"' });
    const handed = await site.contractor.get(
      `${address('beam')}&${new URLSearchParams({ fill }).toString()}`,
    );
    expect(boxesOf(handed.body).bearingLeftIn).toBe('3"');
    expect((await formOf('beam')).bearingLeftIn).toBe(`4 3/4"`);
  });
});
