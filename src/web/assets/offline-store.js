// What this phone keeps, in IndexedDB: visits, findings and photos that wait, each bound to the person it belongs to.
import { openDB } from './idb.js';
import { countWaiting, mayTakeBack } from './offline-rules.js';

const { BroadcastChannel, caches, crypto } = globalThis;
const STRICT = { durability: 'strict' };
let opened;

function database() {
  opened ??= openDB('lintelbook-on-site', 1, {
    upgrade(db) {
      db.createObjectStore('phone');
      db.createObjectStore('visits', { keyPath: 'key' });
      db.createObjectStore('findings', { keyPath: 'id' }).createIndex('visit', 'visitKey');
      db.createObjectStore('photos', { keyPath: 'id' }).createIndex('visit', 'visitKey');
    },
    blocking(_current, _blocked, event) {
      event.target.close();
      opened = undefined;
    },
    terminated() {
      opened = undefined;
    },
  }).catch((error) => {
    opened = undefined;
    throw error;
  });
  return opened;
}

const channel = new BroadcastChannel('lintelbook-on-site');
const tell = () => channel.postMessage('changed');
/** Calls back when another tab, the worker or this page changed what is kept. */
export function whenChanged(action) {
  const listening = new BroadcastChannel('lintelbook-on-site');
  listening.addEventListener('message', action);
}

export const keyOf = (personId, visitId) => `${personId} ${visitId}`;
export const pictureCache = (personId) => `lintelbook-kept-${personId}`;

export async function personOnPhone() {
  return (await (await database()).get('phone', 'person')) ?? null;
}
export async function setPersonOnPhone(personId) {
  if ((await personOnPhone()) === personId) return;
  await (await database()).put('phone', personId, 'person');
  tell();
}

export async function allVisits() {
  return (await database()).getAll('visits');
}
export async function visitsOf(personId) {
  return (await allVisits()).filter((visit) => visit.personId === personId);
}
export async function visitOf(personId, visitId) {
  return (await (await database()).get('visits', keyOf(personId, visitId))) ?? null;
}
export async function putVisit(visit) {
  const db = await database();
  const transaction = db.transaction('visits', 'readwrite', STRICT);
  await transaction.store.put({ ...visit, key: keyOf(visit.personId, visit.visitId) });
  await transaction.done;
  tell();
}
/** Changes a visit that is still kept. */
export async function changeVisit(key, changes) {
  const db = await database();
  const transaction = db.transaction('visits', 'readwrite', STRICT);
  const visit = await transaction.store.get(key);
  if (visit) await transaction.store.put({ ...visit, ...changes });
  await transaction.done;
  tell();
}

export async function findingsOf(key) {
  return (await database()).getAllFromIndex('findings', 'visit', key);
}
export async function photosOf(key) {
  return (await database()).getAllFromIndex('photos', 'visit', key);
}
export async function photoById(id) {
  return (await (await database()).get('photos', id)) ?? null;
}

/** Keeps a finding with its photos, all of it or nothing; the next in the order of its visit. */
export async function addFinding(finding, photos) {
  const db = await database();
  const transaction = db.transaction(['findings', 'photos'], 'readwrite', STRICT);
  const findings = transaction.objectStore('findings');
  const there = await findings.index('visit').getAll(finding.visitKey);
  if (!there.some((one) => one.id === finding.id)) {
    const order = Math.max(0, ...there.map((one) => one.order)) + 1;
    await findings.add({ ...finding, order, state: 'waiting' });
    for (const [index, photo] of photos.entries()) {
      await transaction.objectStore('photos').add({
        ...photo,
        id: crypto.randomUUID(),
        visitKey: finding.visitKey,
        findingId: finding.id,
        place: index,
        state: 'waiting',
      });
    }
  }
  await transaction.done;
  tell();
}

async function change(store, id, changes) {
  const db = await database();
  const transaction = db.transaction(store, 'readwrite', STRICT);
  const there = await transaction.store.get(id);
  if (there) await transaction.store.put({ ...there, ...changes });
  await transaction.done;
  tell();
}
export const changeFinding = (id, changes) => change('findings', id, changes);
export const changePhoto = (id, changes) => change('photos', id, changes);

/**
 * Marks findings as on their way, before they go: from then on they may have arrived, and can't be taken back here.
 * Answers false where one was taken back meanwhile; then none is marked.
 */
export async function offerFindings(ids) {
  const db = await database();
  const transaction = db.transaction('findings', 'readwrite', STRICT);
  const there = await Promise.all(ids.map((id) => transaction.store.get(id)));
  const all = there.every(Boolean);
  if (all) for (const finding of there) await transaction.store.put({ ...finding, offered: true });
  await transaction.done;
  return all;
}

/** Takes a finding back with its photos, as long as it never left the phone. Answers whether it did. */
export async function takeBack(id) {
  const db = await database();
  const transaction = db.transaction(['findings', 'photos'], 'readwrite', STRICT);
  const finding = await transaction.objectStore('findings').get(id);
  const may = finding !== undefined && mayTakeBack(finding);
  if (may) {
    await transaction.objectStore('findings').delete(id);
    const photos = await transaction.objectStore('photos').index('visit').getAll(finding.visitKey);
    for (const photo of photos) {
      if (photo.findingId === id) await transaction.objectStore('photos').delete(photo.id);
    }
  }
  await transaction.done;
  tell();
  return may;
}

/** Forgets one finding with its photos: what the service refused, when its person says so. */
export async function dropFinding(id) {
  const db = await database();
  const transaction = db.transaction(['findings', 'photos'], 'readwrite', STRICT);
  const finding = await transaction.objectStore('findings').get(id);
  await transaction.objectStore('findings').delete(id);
  for (const photo of await transaction
    .objectStore('photos')
    .index('visit')
    .getAll(finding?.visitKey ?? '')) {
    if (photo.findingId === id) await transaction.objectStore('photos').delete(photo.id);
  }
  await transaction.done;
  tell();
}

/** Forgets a visit and all that hangs on it. */
export async function dropVisit(key) {
  const db = await database();
  const transaction = db.transaction(['visits', 'findings', 'photos'], 'readwrite', STRICT);
  await transaction.objectStore('visits').delete(key);
  for (const store of ['findings', 'photos']) {
    for (const id of await transaction.objectStore(store).index('visit').getAllKeys(key)) {
      await transaction.objectStore(store).delete(id);
    }
  }
  await transaction.done;
  tell();
}

export async function waitingOfVisit(key) {
  return countWaiting(await findingsOf(key), await photosOf(key));
}
export async function waitingOf(personId) {
  const all = { findings: 0, photos: 0 };
  for (const visit of await visitsOf(personId)) {
    const { findings, photos } = await waitingOfVisit(visit.key);
    all.findings += findings;
    all.photos += photos;
  }
  return all;
}

/** The person leaves this phone: what is sent goes, what waits stays, for that person alone. */
export async function leavePhone() {
  const personId = await personOnPhone();
  await (await database()).delete('phone', 'person');
  if (personId !== null) {
    for (const visit of await visitsOf(personId)) {
      const findings = await findingsOf(visit.key);
      const photos = await photosOf(visit.key);
      const unsettled = (one) => one.state === 'waiting' || one.state === 'refused';
      if (![...findings, ...photos].some(unsettled)) await dropVisit(visit.key);
    }
    await caches.delete(pictureCache(personId));
  }
  tell();
}
