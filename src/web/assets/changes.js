// What others do while a page is open: one calm line, never a change of what is on the page. Without it, or while the
// connection is gone, the page is what it was.

const FIRST_PAUSE_MS = 2_000;
const LONGEST_PAUSE_MS = 60_000;

function box() {
  const region = document.createElement('aside');
  region.className = 'changes';
  region.setAttribute('aria-label', 'What changed meanwhile');
  const words = document.createElement('p');
  words.setAttribute('role', 'status');
  words.setAttribute('aria-live', 'polite');
  const show = document.createElement('a');
  show.className = 'button';
  show.textContent = 'Show';
  const hide = document.createElement('button');
  hide.type = 'button';
  hide.className = 'button button--quiet';
  hide.textContent = 'Not now';
  const acts = document.createElement('div');
  acts.className = 'changes__acts';
  acts.append(show, hide);
  region.append(words, acts);
  region.hidden = true;
  document.querySelector('main')?.after(region);
  return { region, words, show, hide };
}

export function tellChanges() {
  const { changes, changesAfter } = document.body.dataset;
  if (!changes || !('EventSource' in window)) return;
  const parts = box();
  let place = changesAfter ?? '0';
  let missed = 0;
  let pause = FIRST_PAUSE_MS;
  let source = null;
  let timer;

  function change(event) {
    place = event.lastEventId || place;
    const { what, by, path } = JSON.parse(event.data);
    missed += 1;
    const more = missed > 1 ? ` (and ${missed - 1} more)` : '';
    parts.words.textContent = `Something changed: ${what}${by === '' ? '' : `, by ${by}`}${more}`;
    // Several things: the log or the page itself, not just the last of them.
    parts.show.href = missed > 1 ? window.location.href : path;
    parts.region.hidden = false;
  }

  function open() {
    if (source || document.visibilityState === 'hidden') return;
    source = new window.EventSource(`${changes}?after=${encodeURIComponent(place)}`);
    source.addEventListener('open', () => {
      pause = FIRST_PAUSE_MS;
    });
    source.addEventListener('change', change);
    source.addEventListener('place', (event) => {
      place = event.lastEventId || place;
    });
    // By ourselves, with growing pauses: a browser gives up for good after any answer but 200.
    source.addEventListener('error', () => {
      close();
      timer = window.setTimeout(open, pause * (0.5 + Math.random() / 2));
      pause = Math.min(pause * 2, LONGEST_PAUSE_MS);
    });
  }

  function close() {
    window.clearTimeout(timer);
    source?.close();
    source = null;
  }

  parts.hide.addEventListener('click', () => {
    missed = 0;
    parts.region.hidden = true;
  });
  // Pages in the background hold no line: browsers have few, and a page that comes back reads up.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') close();
    else open();
  });
  window.addEventListener('pagehide', close);
  window.addEventListener('pageshow', open);
  open();
}
