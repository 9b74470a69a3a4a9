// The draft of an item's form kept on the server as it is typed, for this person alone. The line under the form
// says whether it was. Without script, the Keep as draft button does the same.

import { whenDropped } from './drafts.js';

const PAUSE_MS = 1200;

const clock = () => new Date().toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' });

/** Why a draft was not kept, in a sentence. */
function refusal(answer) {
  if (answer.type === 'opaqueredirect')
    return 'You are signed out here: not kept. What you typed is still in the form.';
  if (answer.status === 409) return '';
  return 'The draft could not be kept just now. What you typed is still in the form.';
}

/** Keeps a form with `data-autosave`: shortly after the last key, when the connection is back, when the page goes. */
export function keepOnServer(form) {
  const line = form.querySelector('[data-draft-state]');
  const url = form.dataset.autosave;
  let timer;
  let changes = 0;
  let kept = 0;
  let sent = false;

  const say = (words) => {
    if (line) line.textContent = words;
  };
  const body = () => new window.URLSearchParams(new window.FormData(form));

  async function keep() {
    window.clearTimeout(timer);
    const state = changes;
    if (sent || state === kept) return;
    try {
      const answer = await window.fetch(url, { method: 'POST', body: body(), redirect: 'manual' });
      if (answer.status !== 204) {
        say(refusal(answer));
        return;
      }
      kept = Math.max(kept, state);
      if (kept === changes) say(`Draft kept ${clock()}.`);
    } catch {
      say('No connection: the draft could not be kept. It is tried again when there is one.');
    }
  }

  form.addEventListener('input', (event) => {
    // Boxes that a script fills on loading are not typed.
    if (!event.isTrusted) return;
    changes += 1;
    say('');
    window.clearTimeout(timer);
    timer = window.setTimeout(keep, PAUSE_MS);
  });
  const done = () => {
    sent = true;
    window.clearTimeout(timer);
  };
  // Whatever is sent is kept by the server itself, refused or not.
  form.addEventListener('submit', (event) => {
    if (!event.defaultPrevented) done();
  });
  // What was thrown away is not kept once more by the page as it goes.
  whenDropped(form, done);
  window.addEventListener('online', keep);
  window.addEventListener('pageshow', () => {
    sent = false;
  });
  // A tab that is closed waits for no answer: the beacon is delivered without it.
  const leave = () => {
    if (!sent && changes !== kept && window.navigator.sendBeacon(url, body())) kept = changes;
  };
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') leave();
  });
  window.addEventListener('pagehide', leave);
}
