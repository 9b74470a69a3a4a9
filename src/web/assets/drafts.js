// Entries of a form with `data-keep` are kept on this device, for this person, until they are sent. After a
// session that ran out or a connection that failed they are offered again.
import { minuteText } from './moments.js';

const PREFIX = 'lintelbook.draft.';
const PAUSE_MS = 400;
const UNKEPT = new Set(['password', 'file', 'hidden', 'submit', 'button', 'fieldset', 'output']);

const person = document.body?.dataset.person ?? '';
const own = `${PREFIX}${person}.`;

/** Storage may be full, forbidden or gone: then nothing is kept and nothing breaks. */
function quietly(action, otherwise) {
  try {
    return action();
  } catch {
    return otherwise;
  }
}
const read = (key) => quietly(() => JSON.parse(window.localStorage.getItem(key) ?? 'null'), null);
const write = (key, draft) => quietly(() => window.localStorage.setItem(key, JSON.stringify(draft)));
const drop = (key) => quietly(() => window.localStorage.removeItem(key));
const keys = () =>
  quietly(() => Object.keys(window.localStorage).filter((key) => key.startsWith(PREFIX)), []);

export function dropDrafts() {
  for (const key of keys()) if (key.startsWith(own)) drop(key);
}

function keptFields(form) {
  return [...form.elements].filter((field) => field.name && !UNKEPT.has(field.type));
}

const isChoice = (field) => field.type === 'checkbox' || field.type === 'radio';

/** [name, value, checked]; `checked` is null for fields that are written in. */
function entriesOf(form) {
  return keptFields(form).map((field) => [field.name, field.value, isChoice(field) ? field.checked : null]);
}

function putBack(form, entries) {
  const fields = keptFields(form);
  const seen = new Map();
  for (const [name, value, checked] of entries) {
    const named = fields.filter((field) => field.name === name);
    if (checked !== null) {
      const choice = named.find((field) => field.value === value);
      if (choice) choice.checked = checked;
      continue;
    }
    const nth = seen.get(name) ?? 0;
    seen.set(name, nth + 1);
    if (named[nth]) named[nth].value = value;
  }
  for (const field of fields) field.dispatchEvent(new window.Event('input', { bubbles: true }));
}

function pressable(words, className, action) {
  const button = document.createElement('button');
  button.type = 'button';
  button.className = className;
  button.textContent = words;
  button.addEventListener('click', action);
  return button;
}

function offer(form, key, draft) {
  const box = document.createElement('div');
  box.className = 'draft-offer';
  box.setAttribute('role', 'status');
  const words = document.createElement('p');
  words.textContent = `Entries that were not sent are kept on this device, from ${minuteText(draft.at)}.`;
  const leave = () => {
    box.remove();
    keptFields(form)[0]?.focus();
  };
  box.append(
    words,
    pressable('Put them back', 'button', () => {
      putBack(form, draft.entries);
      leave();
    }),
    pressable('Throw them away', 'button button--quiet', () => {
      drop(key);
      leave();
    }),
  );
  form.before(box);
}

/** Which rows a list form shows is part of its shape: a draft of another shape is not offered. */
function sameShape(entries, others) {
  const names = (list) =>
    list
      .map(([name, value, checked]) => (checked === null ? name : `${name}=${value}`))
      .sort()
      .join('\n');
  return names(entries) === names(others);
}

export function keepDraft(form) {
  if (person === '') return;
  const key = `${own}${form.dataset.keep}`;
  const draft = read(key);
  const shown = entriesOf(form);
  const cameBack = document.querySelector('[data-error-summary]') !== null;
  if (
    draft &&
    !cameBack &&
    sameShape(draft.entries, shown) &&
    JSON.stringify(draft.entries) !== JSON.stringify(shown)
  ) {
    offer(form, key, draft);
  }
  let timer;
  const save = (sent) => write(key, { at: Date.now(), sent, entries: entriesOf(form) });
  form.addEventListener('input', (event) => {
    if (!event.isTrusted) return;
    window.clearTimeout(timer);
    timer = window.setTimeout(save, PAUSE_MS, false);
  });
  form.addEventListener('submit', (event) => {
    window.clearTimeout(timer);
    if (!event.defaultPrevented) save(true);
  });
  whenDropped(form, () => {
    window.clearTimeout(timer);
    drop(key);
  });
}

/** Calls `action` when the draft of this form is thrown away by a form of its own (`data-drops` names which). */
export function whenDropped(form, action) {
  for (const dropping of document.querySelectorAll('form[data-drops]')) {
    if (dropping.dataset.drops !== form.dataset.keep) continue;
    dropping.addEventListener('submit', (event) => {
      if (!event.defaultPrevented) action();
    });
  }
}

/**
 * A sent form is done with when the next page is an ordinary one. A page for nobody (the session ran out) or a
 * refusal means that it did not arrive: its entries then count as unsent again.
 */
export function settleSentDrafts() {
  const refused = document.body.dataset.pageKind === 'refused' || person === '';
  for (const key of keys()) {
    const draft = read(key);
    if (!draft?.sent) continue;
    if (refused) write(key, { ...draft, sent: false });
    else if (key.startsWith(own)) drop(key);
  }
}
