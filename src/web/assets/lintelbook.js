// Conveniences on top of pages that work without them. Nothing here decides anything; the server does.
(() => {
  'use strict';

  const person = document.body.dataset.person ?? '';
  const DRAFT = 'lintelbook.draft.';
  const DRAFT_PAUSE_MS = 400;

  /** localStorage may be full, forbidden or gone: then nothing is kept and nothing breaks. */
  const keep = {
    read(key) {
      try {
        return JSON.parse(window.localStorage.getItem(key) ?? 'null');
      } catch {
        return null;
      }
    },
    write(key, value) {
      try {
        window.localStorage.setItem(key, JSON.stringify(value));
      } catch {
        // Not kept. The form itself still holds everything.
      }
    },
    drop(key) {
      try {
        window.localStorage.removeItem(key);
      } catch {
        // Nothing to drop.
      }
    },
    keys(prefix) {
      try {
        return Object.keys(window.localStorage).filter((key) => key.startsWith(prefix));
      } catch {
        return [];
      }
    },
  };

  // --- One press, one sending -----------------------------------------------------------------------------

  function guardSending(form) {
    form.addEventListener('submit', (event) => {
      if (event.defaultPrevented) return;
      if (form.dataset.sending === 'yes') {
        event.preventDefault();
        return;
      }
      if (form.method === 'get' || form.target === '_blank') return;
      form.dataset.sending = 'yes';
      // aria-disabled, not disabled: the button's own name and value must still be sent.
      for (const button of form.querySelectorAll('button[type=submit]')) {
        button.setAttribute('aria-disabled', 'true');
      }
    });
  }

  /** Back and forward bring the page as it was left: let it send again. */
  window.addEventListener('pageshow', () => {
    for (const form of document.forms) {
      delete form.dataset.sending;
      for (const button of form.querySelectorAll('button[aria-disabled=true]')) {
        button.removeAttribute('aria-disabled');
      }
    }
  });

  // --- Ask before what cannot be taken back ---------------------------------------------------------------

  document.addEventListener(
    'submit',
    (event) => {
      const question = event.submitter?.dataset.confirm ?? event.target.dataset.confirm;
      if (question && !window.confirm(question)) event.preventDefault();
    },
    true,
  );

  // --- Lengths read back as they were understood ----------------------------------------------------------

  const FRACTION = String.raw`(\d+)\s*/\s*(\d+)`;
  const INCHES = new RegExp(String.raw`^(?:(\d+(?:\.\d+)?)(?:[\s-]+${FRACTION})?|${FRACTION})$`);

  function inchesOf(text) {
    if (text === '') return 0;
    const found = INCHES.exec(text);
    if (!found) return NaN;
    const [, whole, top, bottom, onlyTop, onlyBottom] = found;
    if (whole?.includes('.') && top) return NaN;
    const over = Number(bottom ?? onlyBottom ?? 1);
    if (over === 0) return NaN;
    return Number(whole ?? 0) + Number(top ?? onlyTop ?? 0) / over;
  }

  /** Inches, or NaN. Feet take no decimals once a mark for feet stands: 12.5' is written 12'-6". */
  function lengthInches(written) {
    const text = written
      .trim()
      .replaceAll(/[′’]/g, "'")
      .replaceAll(/[″”“]|''/g, '"');
    const marked = /^(\d+)\s*'\s*-?\s*([^'"]*?)\s*"?$/.exec(text);
    if (marked) {
      const rest = inchesOf(marked[2].trim());
      return rest < 12 ? Number(marked[1]) * 12 + rest : NaN;
    }
    const dashed = /^(\d+)-(\d+(?:\s+\d+\s*\/\s*\d+)?)\s*"?$/.exec(text);
    if (dashed) {
      const rest = inchesOf(dashed[2]);
      return rest < 12 ? Number(dashed[1]) * 12 + rest : NaN;
    }
    const plain = /^([^'"]+?)\s*(?:"|in\.?)$/.exec(text);
    return plain ? inchesOf(plain[1]) : NaN;
  }

  function readBack(input) {
    const out = input.parentElement.querySelector('output');
    if (!out) return;
    const show = () => {
      const written = input.value.trim();
      const inches = lengthInches(written);
      const understood = Number.isFinite(inches);
      out.textContent =
        written === ''
          ? ''
          : understood
            ? `= ${Math.round(inches * 1e4) / 1e4} in`
            : 'not read as a length yet';
      out.toggleAttribute('data-refused', written !== '' && !understood);
    };
    input.addEventListener('input', show);
    show();
  }

  // --- Entries kept on this device until they are sent ----------------------------------------------------

  const UNKEPT = new Set(['password', 'file', 'hidden', 'submit', 'button']);

  function keptFields(form) {
    return [...form.elements].filter((field) => field.name && !UNKEPT.has(field.type));
  }

  function entriesOf(form) {
    return keptFields(form).map((field) =>
      field.type === 'checkbox' || field.type === 'radio'
        ? [field.name, field.value, field.checked]
        : [field.name, field.value, null],
    );
  }

  function putBack(form, entries) {
    const counted = new Map();
    const byName = new Map();
    for (const field of keptFields(form)) byName.set(field.name, [...(byName.get(field.name) ?? []), field]);
    for (const [name, value, checked] of entries) {
      const fields = byName.get(name) ?? [];
      if (checked !== null) {
        const choice = fields.find((field) => field.value === value);
        if (choice) choice.checked = checked;
        continue;
      }
      const nth = counted.get(name) ?? 0;
      counted.set(name, nth + 1);
      if (fields[nth]) fields[nth].value = value;
    }
    form.dispatchEvent(new window.Event('input', { bubbles: true }));
    for (const input of form.querySelectorAll('input[data-length]')) {
      input.dispatchEvent(new window.Event('input', { bubbles: true }));
    }
  }

  function offerDraft(form, key, draft) {
    const box = document.createElement('div');
    box.className = 'draft-offer';
    box.setAttribute('role', 'status');
    const words = document.createElement('p');
    words.textContent = `Entries that were never sent are kept on this device, from ${new Date(draft.at).toLocaleString()}.`;
    const restore = document.createElement('button');
    restore.type = 'button';
    restore.className = 'button';
    restore.textContent = 'Put them back';
    const discard = document.createElement('button');
    discard.type = 'button';
    discard.className = 'button button--quiet';
    discard.textContent = 'Throw them away';
    restore.addEventListener('click', () => {
      putBack(form, draft.entries);
      box.remove();
      keptFields(form)[0]?.focus();
    });
    discard.addEventListener('click', () => {
      keep.drop(key);
      box.remove();
      keptFields(form)[0]?.focus();
    });
    box.append(words, restore, discard);
    form.before(box);
  }

  function keepDraft(form) {
    const key = `${DRAFT}${person}.${form.dataset.draft}`;
    const draft = keep.read(key);
    const cameBackWithErrors = document.querySelector('[data-error-summary]') !== null;
    if (draft && !cameBackWithErrors && JSON.stringify(draft.entries) !== JSON.stringify(entriesOf(form))) {
      offerDraft(form, key, draft);
    }
    let timer;
    const save = (sent) => keep.write(key, { at: Date.now(), sent, entries: entriesOf(form) });
    form.addEventListener('input', (event) => {
      if (!event.isTrusted) return;
      window.clearTimeout(timer);
      timer = window.setTimeout(() => save(false), DRAFT_PAUSE_MS);
    });
    form.addEventListener('submit', (event) => {
      window.clearTimeout(timer);
      if (!event.defaultPrevented) save(true);
    });
  }

  /**
   * A sent form is done with when the next page is an ordinary one. A sign-in page (session ran out) or a
   * refusal in between means it did not arrive: the draft is then unsent again.
   */
  function settleSentDrafts() {
    const refused = document.body.dataset.pageKind === 'refused' || person === '';
    for (const key of keep.keys(DRAFT)) {
      const draft = keep.read(key);
      if (!draft?.sent) continue;
      if (refused) keep.write(key, { ...draft, sent: false });
      else if (key.startsWith(`${DRAFT}${person}.`)) keep.drop(key);
    }
  }

  // --- Start ----------------------------------------------------------------------------------------------

  settleSentDrafts();
  for (const form of document.forms) {
    if (form.dataset.draft && person !== '') keepDraft(form);
    guardSending(form);
    if (form.getAttribute('action') === '/sign-out') {
      // A tablet that goes from hand to hand: what was kept leaves with the person.
      form.addEventListener('submit', () => keep.keys(`${DRAFT}${person}.`).forEach((key) => keep.drop(key)));
    }
  }
  for (const input of document.querySelectorAll('input[data-length]')) readBack(input);
  document.querySelector('[data-error-summary]')?.focus();
})();
