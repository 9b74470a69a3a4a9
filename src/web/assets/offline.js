// On every page: whose phone this is, what waits to be sent, and the worker that stands in without a network. On the
// page of a visit: taking it along.
import { keptWords, time, troubleWords, waitingWords } from './offline-rules.js';
import { keepVisit, sendAll } from './offline-send.js';
import { setPersonOnPhone, visitOf, waitingOf, waitingOfVisit, whenChanged } from './offline-store.js';

const { navigator } = window;
const personId = document.body.dataset.person;

/** Also from `Background Sync`, where there is: the browser sends when it finds a network, with no page open. */
export async function askToSendLater() {
  const registration = await navigator.serviceWorker.ready;
  await registration.sync?.register('send-kept').catch(() => undefined);
}

async function showWhatWaits() {
  const waiting = await waitingOf(personId);
  let bar = document.querySelector('[data-waiting-bar]');
  if (waiting.findings + waiting.photos === 0) {
    bar?.remove();
    return waiting;
  }
  if (!bar) {
    bar = document.createElement('div');
    bar.className = 'waiting-bar';
    bar.dataset.waitingBar = '';
    bar.setAttribute('role', 'status');
    document.querySelector('main').before(bar);
  }
  const link = document.createElement('a');
  link.href = '/on-site';
  link.textContent = 'Look at them';
  bar.replaceChildren(`${waitingWords(waiting)} `, link);
  return waiting;
}

async function showPanel(panel) {
  const { projectId, visitId } = panel.dataset;
  const line = panel.querySelector('[data-kept-line]');
  const take = panel.querySelector('[data-take]');
  const work = panel.querySelector('[data-work]');
  const send = panel.querySelector('[data-send]');
  const said = panel.querySelector('[data-said]');
  const show = async () => {
    const visit = await visitOf(personId, visitId);
    panel.hidden = visit === null && panel.dataset.may !== 'yes';
    if (visit === null) return;
    const missing = visit.picturesMissing > 0 ? ` ${visit.picturesMissing} pictures could not be kept.` : '';
    line.textContent = `On this phone since ${time(visit.keptAt)}: ${keptWords(visit.copy)}.${missing}`;
    take.textContent = 'Bring it up to date';
    work.hidden = false;
    const waiting = await waitingOfVisit(visit.key);
    send.hidden = waiting.findings + waiting.photos === 0;
    const trouble = visit.trouble && !send.hidden ? ` ${troubleWords[visit.trouble]}` : '';
    said.textContent = `${waitingWords(waiting)}${trouble}`;
  };
  take.addEventListener('click', async () => {
    take.setAttribute('aria-disabled', 'true');
    said.textContent = 'Being kept …';
    try {
      await navigator.serviceWorker.ready;
      await navigator.storage?.persist?.();
      await keepVisit({ projectId, visitId });
      await show();
    } catch (error) {
      const full = error.name === 'QuotaExceededError';
      said.textContent = full
        ? 'There is no room left on this phone. Nothing was kept.'
        : (troubleWords[error.meaning] ?? 'It could not be kept on this phone.');
    } finally {
      take.removeAttribute('aria-disabled');
    }
  });
  send.addEventListener('click', () => void sendAll());
  whenChanged(() => void show());
  await show();
}

async function begin() {
  if (!('serviceWorker' in navigator) || !window.indexedDB) return;
  await navigator.serviceWorker.register('/on-site-worker.js', { type: 'module' });
  // A page for nobody (a session that ran out) changes nothing: only signing out or another person does.
  if (!personId) return;
  await setPersonOnPhone(personId);
  let waiting = await showWhatWaits();
  whenChanged(async () => (waiting = await showWhatWaits()));
  const panel = document.querySelector('[data-on-site-panel]');
  if (panel) await showPanel(panel);
  for (const form of document.querySelectorAll('form[action^="/sign-out"]')) {
    form.addEventListener('submit', (event) => {
      if (waiting.findings + waiting.photos === 0) return;
      const question = `${waitingWords(waiting)} It stays on this phone, and is sent when you sign in here again. Sign out?`;
      if (!window.confirm(question)) event.preventDefault();
    });
  }
  window.addEventListener('online', () => void sendAll());
  if (waiting.findings + waiting.photos > 0) await sendAll();
}

// A browser without workers that load modules, or without storage, has every page all the same.
begin().catch(() => undefined);
