// Takes a visit along, and sends what was kept once there is a network: findings in their order, then their photos in
// pieces. Every answer is written down before the next request, so that it goes on after any break.
import { meaningOf, nextDelivery, sendable } from './offline-rules.js';
import {
  changeFinding,
  changePhoto,
  changeVisit,
  findingsOf,
  offerFindings,
  personOnPhone,
  photosOf,
  pictureCache,
  putVisit,
  visitOf,
  visitsOf,
  waitingOfVisit,
} from './offline-store.js';

const { caches, fetch, navigator } = globalThis;
const PIECE_BYTES = 1024 * 1024;

/** An answer after which nothing more of this visit can be sent now. */
class Stopped extends Error {
  constructor(meaning) {
    super(meaning);
    this.meaning = meaning;
  }
}

async function ask(url, options = {}) {
  let response;
  try {
    response = await fetch(url, { redirect: 'manual', cache: 'no-store', ...options });
  } catch {
    throw new Stopped('later');
  }
  const answer = await response.json().catch(() => ({}));
  return { meaning: meaningOf(response), status: response.status, answer };
}

const base = ({ projectId, visitId }) => `/projects/${projectId}/visits/${visitId}`;

async function askForVisit(visit) {
  const { meaning, answer } = await ask(`${base(visit)}/kept`);
  if (meaning !== 'done') throw new Stopped(meaning);
  return answer;
}

/** Fetches what a visit holds and keeps it; pictures that could not be fetched are counted. Throws where it is refused. */
export async function keepVisit({ projectId, visitId }) {
  const { csrfToken: _, ...copy } = await askForVisit({ projectId, visitId });
  const { personId } = copy.person;
  const cache = await caches.open(pictureCache(personId));
  const pictures = [
    ...copy.drawings.flatMap(({ pages, grid }) => (grid ? [...pages, grid] : pages)),
    ...copy.photos,
  ];
  let missing = 0;
  for (const { url } of pictures) {
    try {
      const response = await fetch(url, { cache: 'no-cache' });
      const isPicture = /^image\//.test(response.headers.get('content-type') ?? '');
      if (response.ok && isPicture) await cache.put(url, response);
      else missing += 1;
    } catch {
      missing += 1;
    }
  }
  const before = await visitOf(personId, visitId);
  const kept = { copy, keptAt: new Date().toISOString(), picturesMissing: missing };
  await putVisit({ trouble: null, ...before, personId, projectId, visitId, ...kept });
  // What the copy holds already is shown as its own.
  for (const finding of await findingsOf(`${personId} ${visitId}`)) {
    if (finding.state === 'kept' && !finding.inCopy) await changeFinding(finding.id, { inCopy: true });
  }
}

/** Sends all that waits, of the person on this phone. One tab or the worker at a time. */
export async function sendAll() {
  const work = async () => {
    const personId = await personOnPhone();
    if (personId === null) return;
    for (const visit of await visitsOf(personId)) {
      const { findings, photos } = await waitingOfVisit(visit.key);
      if (findings + photos > 0) await sendVisit(visit);
    }
  };
  return navigator.locks ? navigator.locks.request('lintelbook-sending', work) : work();
}

async function sendVisit(visit) {
  try {
    const { person, csrfToken } = await askForVisit(visit);
    if (person.personId !== visit.personId) throw new Stopped('other person');
    await sendFindings(visit, csrfToken);
    await sendPhotos(visit, csrfToken);
    await changeVisit(visit.key, { trouble: null, sentAt: new Date().toISOString() });
    await keepVisit(visit);
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
    await changeVisit(visit.key, { trouble: error.meaning });
  }
}

async function sendFindings(visit, csrfToken) {
  for (;;) {
    const all = await photosOf(visit.key);
    const { after, findings } = nextDelivery(await findingsOf(visit.key));
    if (findings.length === 0) return;
    if (!(await offerFindings(findings.map(({ id }) => id)))) continue;
    const photosOfOne = (id) =>
      all.filter((photo) => photo.findingId === id).sort((one, other) => one.place - other.place);
    const body = {
      after,
      phoneNowAt: new Date().toISOString(),
      findings: findings.map((finding) => sendable(finding, photosOfOne(finding.id))),
    };
    const { meaning, answer } = await ask(`${base(visit)}/phone-findings`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-csrf-token': csrfToken },
      body: JSON.stringify(body),
    });
    if (meaning !== 'done') throw new Stopped(meaning);
    for (const one of answer.findings) {
      const { id, is, sentence = '', receivedAt = '' } = one;
      if (one.photosAreIn) {
        for (const photo of photosOfOne(id)) await changePhoto(photo.id, { state: 'kept', blob: null });
      }
      await changeFinding(id, { state: is, sentence, receivedAt });
    }
  }
}

async function sendPhotos(visit, csrfToken) {
  const findings = await findingsOf(visit.key);
  const arrived = new Map(
    findings.filter(({ state }) => state === 'kept' || state === 'late').map((one) => [one.id, one.order]),
  );
  const photos = (await photosOf(visit.key))
    .filter((photo) => photo.state === 'waiting' && arrived.has(photo.findingId))
    .sort(
      (one, other) => arrived.get(one.findingId) - arrived.get(other.findingId) || one.place - other.place,
    );
  for (const photo of photos) await sendPhoto(visit, photo, csrfToken);
}

async function sendPhoto({ projectId }, photo, csrfToken) {
  const url = `/projects/${projectId}/phone-photos/${photo.id}`;
  const known = await ask(url);
  if (known.meaning !== 'done') throw new Stopped(known.meaning);
  let { offset, attachmentId } = known.answer;
  while (!attachmentId) {
    const { meaning, answer } = await ask(`${url}/pieces`, {
      method: 'POST',
      headers: {
        'content-type': 'application/octet-stream',
        'upload-offset': String(offset),
        'x-csrf-token': csrfToken,
      },
      body: photo.blob.slice(offset, offset + PIECE_BYTES),
    });
    if (meaning === 'refused') {
      await changePhoto(photo.id, { state: 'refused', sentence: answer.sentence ?? 'It was refused.' });
      return;
    }
    const goesOn = meaning === 'done' || (meaning === 'order' && answer.offset !== offset);
    if (!goesOn) throw new Stopped(meaning === 'order' ? 'later' : meaning);
    ({ offset, attachmentId } = answer);
  }
  await changePhoto(photo.id, { state: 'kept', blob: null });
}
