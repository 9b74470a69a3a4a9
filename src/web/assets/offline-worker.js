// The service worker: pages come from the network; where there is none, the page of kept visits stands in. Pictures of
// kept visits, photos that wait, and forms that could not be sent are answered from this phone.
// `shell` (version, files) is written above this file by the route that serves it.
import { isSquare } from './assets/offline-rules.js';
import { sendAll } from './assets/offline-send.js';
import {
  addFinding,
  keyOf,
  leavePhone,
  personOnPhone,
  photoById,
  pictureCache,
  visitOf,
} from './assets/offline-store.js';

const worker = globalThis;
const { caches, fetch, Response, shell } = worker;
const SHELL_PAGE = '/on-site';
const SHELL_CACHE = `lintelbook-shell-${shell.version}`;
/** A network that does not answer is no network: the kept visit is shown after this. */
const PATIENCE_MS = 20_000;

const visitPage = /^\/projects\/([0-9a-f-]{36})\/visits\/([0-9a-f-]{36})$/;
const findingForm = /^\/projects\/([0-9a-f-]{36})\/visits\/([0-9a-f-]{36})\/findings$/;
const preview = /^\/projects\/[0-9a-f-]{36}\/attachments\/[0-9a-f-]{36}\/preview\/\d+$/;
const waitingPhoto = /^\/on-site\/photo\/([0-9a-f-]{36})$/;

worker.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(SHELL_CACHE);
      for (const file of [SHELL_PAGE, ...shell.files]) {
        // Without cookies: what is kept for everybody names nobody.
        const response = await fetch(file, { credentials: 'omit', cache: 'reload' });
        if (!response.ok) throw new Error(`${file} answered ${response.status}`);
        await cache.put(file, response);
      }
      await worker.skipWaiting();
    })(),
  );
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith('lintelbook-shell-') && name !== SHELL_CACHE) await caches.delete(name);
      }
      await worker.clients.claim();
    })(),
  );
});

worker.addEventListener('sync', (event) => {
  if (event.tag === 'send-kept') event.waitUntil(sendAll());
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (origin !== worker.location.origin) return;
  if (request.method === 'POST' && request.mode === 'navigate') {
    if (/^\/sign-out(-everywhere)?$/.test(pathname)) event.respondWith(signOut(request));
    else if (findingForm.test(pathname)) event.respondWith(sendForm(request, pathname));
    return;
  }
  if (request.method !== 'GET') return;
  const photo = waitingPhoto.exec(pathname);
  if (photo) event.respondWith(showWaiting(photo[1]));
  else if (preview.test(pathname)) event.respondWith(showPicture(request));
  else if (request.mode === 'navigate') event.respondWith(showPage(request, pathname));
  else if (pathname.startsWith('/assets/')) event.respondWith(showAsset(request, pathname));
});

async function shellPage() {
  return (await (await caches.open(SHELL_CACHE)).match(SHELL_PAGE)) ?? Response.error();
}

const wait = (ms) => new Promise((resolve) => worker.setTimeout(resolve, ms));

async function isKept(projectId, visitId) {
  const personId = await personOnPhone();
  const visit = personId === null ? null : await visitOf(personId, visitId);
  return visit !== null && visit.projectId === projectId ? visit : null;
}

async function showPage(request, pathname) {
  const [, projectId, visitId] = visitPage.exec(pathname) ?? [];
  const answer = fetch(request).catch(() => null);
  const kept = visitId !== undefined && (await isKept(projectId, visitId).catch(() => null)) !== null;
  const response = await (kept ? Promise.race([answer, wait(PATIENCE_MS)]) : answer);
  // A gateway that stands in front of a service that is down.
  const down = !response || [502, 503, 504].includes(response.status);
  if (!down) return response;
  const instead = await shellPage();
  return instead.type === 'error' && response ? response : instead;
}

async function showAsset(request, pathname) {
  const cached = async () => (await caches.open(SHELL_CACHE)).match(pathname);
  try {
    const answer = fetch(request);
    answer.catch(() => null);
    const response = await Promise.race([answer, wait(4000)]);
    return response ?? (await cached()) ?? (await answer);
  } catch {
    return (await cached()) ?? Response.error();
  }
}

async function showPicture(request) {
  try {
    return await fetch(request);
  } catch {
    const personId = await personOnPhone();
    const cache = personId === null ? null : await caches.open(pictureCache(personId));
    return (await cache?.match(request.url)) ?? Response.error();
  }
}

/** A photo that is not sent yet, to the person who took it. */
async function showWaiting(id) {
  const photo = await photoById(id);
  const personId = await personOnPhone();
  if (!photo?.blob || personId === null || !photo.visitKey.startsWith(`${personId} `))
    return new Response('', { status: 404 });
  return new Response(photo.blob, {
    headers: {
      'content-type': photo.type,
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
      'content-security-policy': "default-src 'none'; sandbox",
    },
  });
}

async function signOut(request) {
  const response = await fetch(request);
  await leavePhone();
  return response;
}

/** Where it was found, by the form; a square that is none stays as words, so that nothing typed is lost. */
function whereOf(text) {
  const square = text('square').toUpperCase();
  const location = text('location');
  if (square === '') return { location, place: null };
  if (isSquare(square)) return { location, place: { sheetId: text('sheetId'), square } };
  return { location: [location, square].filter(Boolean).join(', '), place: null };
}

/** A finding's form that no network takes is kept under the very id it was made with: sent twice, it is one. */
async function sendForm(request, pathname) {
  const [, projectId, visitId] = findingForm.exec(pathname);
  const visit = await isKept(projectId, visitId).catch(() => null);
  if (visit === null) return fetch(request);
  const copy = request.clone();
  try {
    return await fetch(request);
  } catch (error) {
    const form = await copy.formData();
    const text = (name) => String(form.get(name) ?? '').trim();
    const result = text('result');
    if (result === '') throw error;
    const photos = [];
    for (const file of form.getAll('photo')) {
      if (typeof file === 'string' || file.size === 0) continue;
      const blob = new worker.Blob([await file.arrayBuffer()], { type: file.type });
      photos.push({ name: file.name, type: file.type, bytes: blob.size, blob });
    }
    const said = { result, reason: text('reason'), ...whereOf(text) };
    await addFinding(
      {
        id: text('clientKey'),
        visitKey: keyOf(visit.personId, visitId),
        checkId: text('checkId'),
        ...said,
        at: new Date().toISOString(),
      },
      photos,
    );
    return Response.redirect(`/projects/${projectId}/visits/${visitId}`, 303);
  }
}
