// The page that stands in where there is no network: the visits kept on this phone, and the one that is worked on.
import { writeMoments } from './moments.js';
import { troubleWords, waitingWords } from './offline-rules.js';
import { sendAll } from './offline-send.js';
import {
  allVisits,
  dropVisit,
  findingsOf,
  personOnPhone,
  photosOf,
  visitOf,
  visitsOf,
  waitingOf,
  waitingOfVisit,
  whenChanged,
} from './offline-store.js';
import { drawVisit } from './offline-visit.js';

const { navigator } = window;
const place = document.querySelector('[data-on-site]');
const said = document.querySelector('[data-said]');
const send = document.querySelector('[data-send]');
const from = /\/visits\/([0-9a-f-]{36})$/;

function wantedVisit() {
  const hash = window.location.hash.slice(1);
  return /^[0-9a-f-]{36}$/.test(hash) ? hash : from.exec(window.location.pathname)?.[1];
}

function element(name, words, className = '') {
  const one = document.createElement(name);
  one.textContent = words;
  if (className) one.className = className;
  return one;
}

async function drawList(personId) {
  const list = element('ul', '', 'plain-list');
  for (const visit of await visitsOf(personId)) {
    const link = element('a', `Visit ${visit.copy.visit.number}: ${visit.copy.visit.title}`, 'button');
    link.href = `/on-site#${visit.visitId}`;
    const item = element('li', '');
    item.append(link, element('p', `${visit.copy.project.name}, ${visit.copy.visit.opening}`, 'soft small'));
    list.append(item);
  }
  const none =
    'Nothing of yours is kept on this phone. With a network, open a visit and press “Take this visit with me”.';
  place.replaceChildren(
    element('h1', 'Kept on this phone'),
    list.children.length > 0 ? list : element('p', none),
  );
}

async function drawNobody() {
  const others = (await allVisits()).length;
  const words =
    others > 0
      ? 'A visit is kept on this phone for somebody who is not signed in. It is shown, and sent, when that person signs in.'
      : 'There is no network, and nothing is kept on this phone.';
  const link = element('a', 'Sign in', 'button');
  link.href = '/sign-in';
  place.replaceChildren(element('h1', 'No network'), element('p', words), link);
}

async function throwAway(visit) {
  const { findings, photos } = await waitingOfVisit(visit.key);
  const lost = findings + photos > 0 ? ', with everything that was not sent' : '';
  if (!window.confirm(`Take this visit off the phone${lost}?`)) return;
  await dropVisit(visit.key);
  window.location.assign('/on-site');
}

/** The next one that nobody looked at comes under the thumb. */
function toNext(here) {
  const all = [...place.querySelectorAll('.checklist__one')];
  const after = all.slice(all.indexOf(here) + 1);
  const isOpen = (one) => one.querySelector('[data-chips]').dataset.state === 'open';
  const next = after.find(isOpen) ?? all.find(isOpen) ?? here;
  next.querySelector('h2').focus({ preventScroll: true });
  next.scrollIntoView({ block: 'start' });
}

let drawing = Promise.resolve();
function draw() {
  drawing = drawing.then(drawNow, drawNow);
  return drawing;
}

async function drawNow() {
  const personId = await personOnPhone();
  if (personId === null) {
    send.hidden = true;
    said.textContent = '';
    return drawNobody();
  }
  const waiting = await waitingOf(personId);
  send.hidden = waiting.findings + waiting.photos === 0;
  const visitId = wantedVisit();
  const visit = visitId === undefined ? null : await visitOf(personId, visitId);
  const trouble = visit?.trouble && !send.hidden ? ` ${troubleWords[visit.trouble]}` : '';
  const offline = navigator.onLine ? '' : ' No network.';
  said.textContent = `${waitingWords(waiting)}${trouble || offline}`;
  if (visit === null) return drawList(personId);
  return drawVisit(place, visit, await findingsOf(visit.key), await photosOf(visit.key), {
    throwAway: () => void throwAway(visit),
  });
}

async function begin() {
  writeMoments();
  if ('serviceWorker' in navigator) {
    await navigator.serviceWorker.register('/on-site-worker.js', { type: 'module' }).catch(() => undefined);
  }
  await draw();
  whenChanged(() => void draw());
  send.addEventListener('click', () => void sendAll());
  window.addEventListener('online', () => void sendAll());
  window.addEventListener('hashchange', () => void draw());
  place.addEventListener('kept', async (event) => {
    const here = event.target.closest('li');
    await draw();
    toNext(here);
    await sendAll();
  });
  await sendAll();
}

begin().catch((error) => {
  place.replaceChildren(
    element('h1', 'This phone does not let us look'),
    element(
      'p',
      'What is kept can’t be read: the browser has no storage for this page, or it is a private window.',
    ),
  );
  console.error(error);
});
