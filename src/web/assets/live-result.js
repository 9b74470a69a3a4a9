// What an item comes to, recomputed as it is typed. The server does the arithmetic; this sends the form and shows
// the answer. Without script, and whenever this fails, the Calculate button does the same.

const PAUSE_MS = 350;

function openChecks(place) {
  return new Set([...place.querySelectorAll('details[open][id]')].map((one) => one.id));
}

/** Recomputes a form with `data-live`; its result and its line stand in elements that the page holds ready. */
export function recomputeAsTyped(form) {
  const result = document.querySelector('[data-live-result]');
  const line = document.querySelector('[data-live-line]');
  if (!result || !line) return;
  let timer;
  let running;
  let typed = false;

  function say(words, verdict = '') {
    line.textContent = words;
    line.dataset.verdict = verdict;
  }

  async function ask() {
    running?.abort();
    running = new window.AbortController();
    const { signal } = running;
    try {
      const body = new window.URLSearchParams(new window.FormData(form));
      const answer = await window.fetch(form.dataset.live, {
        method: 'POST',
        body,
        signal,
        redirect: 'manual',
      });
      if (!answer.ok) throw new Error(String(answer.status));
      const text = await answer.text();
      if (signal.aborted) return;
      const open = openChecks(result);
      result.innerHTML = text;
      for (const one of result.querySelectorAll('details[id]')) if (open.has(one.id)) one.open = true;
      const root = result.querySelector('[data-line]');
      say(root?.dataset.line ?? '', root?.dataset.verdict);
      // Before anything is typed the line says enough: the page does not move under somebody who only reads.
      if (typed) document.querySelector('[data-live-section]').hidden = false;
    } catch (error) {
      if (error.name !== 'AbortError') say('Not recomputed just now. Press Calculate.');
    }
  }

  function soon() {
    window.clearTimeout(timer);
    timer = window.setTimeout(ask, PAUSE_MS);
  }
  form.addEventListener('input', () => {
    typed = true;
    soon();
  });
  soon();
}
