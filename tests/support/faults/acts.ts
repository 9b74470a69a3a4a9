import { createHash, randomUUID } from 'node:crypto';
import { confirmed, ownPhoto, type Scene } from './scene.ts';
import type { Write } from './ledger.ts';

/** What one of the people does, once, over HTTP; what the service says is kept goes into the ledger as acknowledged. */
export type Act = () => Promise<void>;

/** An answer that is neither "kept" nor a refusal that the act allows for. */
export class UnexpectedAnswer extends Error {
  override readonly name = 'UnexpectedAnswer';
  readonly status: number;
  readonly retryAfter: string | null;
  constructor(sentence: string, answer?: Response) {
    super(sentence);
    this.status = answer?.status ?? 0;
    this.retryAfter = answer?.headers.get('retry-after') ?? null;
  }
}

async function judge(answer: Response, kept: number, refused: readonly number[] = []): Promise<boolean> {
  const body = await answer.text();
  if (answer.status === kept) return true;
  if (refused.includes(answer.status)) return false;
  throw new UnexpectedAnswer(`${answer.url} answered ${answer.status}: ${saidIn(body)}`, answer);
}

/** What an answer says, in a line. */
const saidIn = (body: string) => /<h1>([^<]*)/.exec(body)?.[1] ?? body.slice(0, 200);

const sha256Of = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

/** Every kind of work that the service may be killed at. */
export function actsOf(scene: Scene): Readonly<Record<string, Act>> {
  return {
    'an upload': upload(scene),
    'an upload in pieces': uploadInPieces(scene),
    'a mark': mark(scene),
    'a version': saveVersion(scene),
    'a set': issueSet(scene),
    'a phone’s findings': phone(scene),
    'a draft': draft(scene),
  };
}

function upload({ base, people, openingPage, ledger }: Scene): Act {
  return async () => {
    const buffer = await ownPhoto();
    const key = sha256Of(buffer);
    ledger.try('photo', key);
    const file = { field: 'files', name: 'site.jpg', mimeType: 'image/jpeg', buffer };
    const answer = await people.contractor.upload(base, openingPage, /\/attachments$/, {}, file);
    if (await judge(answer, 303)) ledger.acknowledge('photo', key);
  };
}

function uploadInPieces({ base, inProject, openingId, people, formTokens, ledger }: Scene): Act {
  let waiting: { readonly uploadId: string; readonly bytes: Buffer; offset: number } | null = null;
  const send = piecesOf(people.contractor.cookies.bind(people.contractor), formTokens.contractor);
  return async () => {
    if (waiting === null) {
      const bytes = await ownPhoto();
      const begun = await fetch(`${base}${inProject}/uploads`, {
        method: 'POST',
        headers: send.headers({ 'content-type': 'application/x-www-form-urlencoded' }),
        body: new URLSearchParams({
          name: 'pieces.jpg',
          bytes: String(bytes.length),
          subject: 'opening',
          subjectId: openingId,
          caption: '',
        }).toString(),
      });
      if (begun.status !== 201) throw new UnexpectedAnswer(`beginning answered ${begun.status}`, begun);
      const { uploadId } = (await begun.json()) as { uploadId: string };
      waiting = { uploadId, bytes, offset: 0 };
      ledger.try('photo in pieces', sha256Of(bytes));
    }
    const { uploadId, bytes } = waiting;
    const key = sha256Of(bytes);
    const place = `${base}${inProject}/uploads/${uploadId}`;
    await send.whole(place, bytes, waiting);
    ledger.acknowledge('photo in pieces', key);
    waiting = null;
  };
}

/** Sends a file piece by piece from where the service says that it is, as the page's script and the phone do. */
function piecesOf(cookies: () => string, token: string) {
  const headers = (more: Record<string, string>) => ({
    cookie: cookies(),
    'sec-fetch-site': 'same-origin',
    'x-csrf-token': token,
    ...more,
  });
  return {
    headers,
    async whole(place: string, bytes: Buffer, known: { offset: number }): Promise<void> {
      const asked = await fetch(place, { headers: headers({}) });
      if (asked.status !== 200)
        throw new UnexpectedAnswer(`${place} answered ${asked.status}: its upload is gone`, asked);
      const state = (await asked.json()) as { offset: number; attachmentId: string | null };
      let { offset } = state;
      if (state.attachmentId !== null) return;
      if (offset < known.offset)
        throw new UnexpectedAnswer(`${place} lost bytes: ${offset} of ${known.offset}`);
      const half = Math.ceil(bytes.length / 2);
      for (;;) {
        const end = offset < half ? half : bytes.length;
        const answer = await fetch(`${place}/pieces`, {
          method: 'POST',
          headers: headers({ 'content-type': 'application/octet-stream', 'upload-offset': String(offset) }),
          body: new Uint8Array(bytes.subarray(offset, end)),
        });
        if (answer.status !== 200 && answer.status !== 201) {
          throw new UnexpectedAnswer(
            `${place} answered ${answer.status}: ${saidIn(await answer.text())}`,
            answer,
          );
        }
        const after = (await answer.json()) as { offset: number; attachmentId: string | null };
        offset = after.offset;
        known.offset = offset;
        if (after.attachmentId !== null) return;
      }
    },
  };
}

function program(base: string, inProject: string, token: string) {
  const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/json' };
  const at = (path: string) => `${base}/api/v1${inProject}${path}`;
  return {
    get: (path: string) => fetch(at(path), { headers }),
    send: (method: string, path: string, body: unknown, more: Record<string, string> = {}) =>
      fetch(at(path), { method, headers: { ...headers, ...more }, body: JSON.stringify(body) }),
  };
}

function mark({ base, inProject, tokens, markedItemId, ledger }: Scene): Act {
  const engineer = program(base, inProject, tokens.engineer);
  return async () => {
    const read = await engineer.get(`/items/${markedItemId}/versions`);
    if (read.status !== 200) throw new UnexpectedAnswer(`the versions answered ${read.status}`, read);
    const { items } = (await read.json()) as {
      items: { number: number; hash: string; marks: { word: string; number: number }[] }[];
    };
    const [newest] = items;
    if (newest === undefined) throw new UnexpectedAnswer('the item has no version');
    const last = newest.marks.toSorted((one, other) => one.number - other.number).at(-1);
    const reason = `Word ${randomUUID()}`;
    ledger.try('mark', reason);
    const answer = await engineer.send('POST', `/items/${markedItemId}/versions/${newest.number}/marks`, {
      word: last?.word === 'approved' ? 'withdrawn' : 'approved',
      hash: newest.hash,
      expectedMarkNumber: last?.number ?? 0,
      reason,
    });
    if (await judge(answer, 201)) ledger.acknowledge('mark', reason);
  };
}

function saveVersion({ base, inProject, tokens, savedItemId, ledger }: Scene): Act {
  const contractor = program(base, inProject, tokens.contractor);
  return async () => {
    const read = await contractor.get(`/items/${savedItemId}/newest`);
    if (read.status !== 200) throw new UnexpectedAnswer(`the newest version answered ${read.status}`, read);
    const { content } = (await read.json()) as { content: Record<string, unknown> };
    const reason = `Traced again ${randomUUID()}`;
    ledger.try('version', reason);
    const answer = await contractor.send(
      'PUT',
      `/items/${savedItemId}/newest`,
      { content: { ...content, note: reason }, reason },
      { 'if-match': read.headers.get('etag') ?? '' },
    );
    if (await judge(answer, 201)) ledger.acknowledge('version', reason);
  };
}

function issueSet({ base, inOpening, people, ledger }: Scene): Act {
  return async () => {
    const asked = await people.engineer.get(`${base}${inOpening}/sets/new`);
    const page = await asked.text();
    if (asked.status !== 200) throw new UnexpectedAnswer(`the next set answered ${asked.status}`, asked);
    const note = `Set ${randomUUID()}`;
    ledger.try('set', note);
    const answer = await people.engineer.submit(base, page, /\/sets$/, { ...confirmed(page), note });
    // An approval was taken back between the page and its form.
    if (await judge(answer, 303, [409, 422])) ledger.acknowledge('set', note);
  };
}

interface PhoneFinding {
  readonly id: string;
  readonly photos: readonly { readonly id: string; readonly name: string; readonly bytes: number }[];
}

function phone({ base, inProject, visitId, checkIds, people, formTokens, ledger }: Scene): Act {
  const send = piecesOf(people.inspector.cookies.bind(people.inspector), formTokens.inspector);
  let after: string | null = null;
  let waiting: PhoneFinding[] = [];
  let photo: { readonly id: string; readonly bytes: Buffer; offset: number } | null = null;
  let turn = 0;
  const acknowledge = (what: Write, key: string) => {
    ledger.acknowledge(what, key);
  };
  return async () => {
    if (photo === null) {
      const bytes = await ownPhoto();
      photo = { id: randomUUID(), bytes, offset: 0 };
      const announced = [{ id: photo.id, name: 'wall.jpg', bytes: bytes.length }];
      waiting = [0, 1, 2].map((index) => {
        turn += 1;
        return {
          id: randomUUID(),
          checkId: checkIds[turn % checkIds.length],
          result: 'pass',
          reason: '',
          location: '',
          at: new Date().toISOString(),
          photos: index === 0 ? announced : [],
        };
      });
      for (const { id } of waiting) ledger.try('phone finding', id);
      ledger.try('phone photo', photo.id);
    }
    if (waiting.length > 0) {
      const answer = await fetch(`${base}${inProject}/visits/${visitId}/phone-findings`, {
        method: 'POST',
        headers: send.headers({ 'content-type': 'application/json' }),
        body: JSON.stringify({ after, phoneNowAt: new Date().toISOString(), findings: waiting }),
      });
      const text = await answer.text();
      if (answer.status !== 200)
        throw new UnexpectedAnswer(`the findings answered ${answer.status}: ${saidIn(text)}`, answer);
      const { findings } = JSON.parse(text) as { findings: { id: string; is: string; sentence?: string }[] };
      for (const one of findings) {
        if (one.is !== 'kept') throw new UnexpectedAnswer(`a finding is ${one.is}: ${one.sentence ?? ''}`);
        acknowledge('phone finding', one.id);
        after = one.id;
      }
      waiting = [];
    }
    await send.whole(`${base}${inProject}/phone-photos/${photo.id}`, photo.bytes, photo);
    acknowledge('phone photo', photo.id);
    photo = null;
  };
}

function draft({ base, inProject, people, formTokens, savedItemId, ledger }: Scene): Act {
  return async () => {
    const text = `Draft ${randomUUID()}`;
    ledger.tryDraft(text);
    const answer = await fetch(`${base}${inProject}/items/${savedItemId}/draft`, {
      method: 'POST',
      headers: {
        cookie: people.contractor.cookies(),
        'sec-fetch-site': 'same-origin',
        'x-csrf-token': formTokens.contractor,
        'content-type': 'application/x-www-form-urlencoded',
      },
      body: new URLSearchParams({ note: text, _expected: '99999999' }).toString(),
    });
    if (await judge(answer, 204)) ledger.acknowledgeDraft(text);
  };
}
