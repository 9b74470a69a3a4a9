// Sends the files of a form one after the other, in pieces, each with its progress. A dropped connection goes on where
// it broke; what fails is tried again by itself. Without script the form sends itself.

const PIECE_BYTES = 4 * 1024 * 1024;
const PAUSES_MS = [1000, 3000, 9000];

class Refused extends Error {}

export function sendInPieces(form) {
  form.addEventListener('submit', (event) => {
    const files = [...form.querySelectorAll('input[type=file]')].flatMap((input) => [...input.files]);
    if (files.length === 0 || form.dataset.sending === 'yes') return;
    event.preventDefault();
    form.dataset.sending = 'yes';
    const list = form.querySelector('[data-upload-list]');
    list.replaceChildren();
    const lines = files.map((file) => line(list, file));
    void sendAll(form, lines);
  });
}

/** One line for each file: its name, how far it is, and after a failure a button of its own. */
function line(list, file) {
  const element = document.createElement('li');
  const name = document.createElement('span');
  name.textContent = file.name;
  const bar = document.createElement('progress');
  bar.max = file.size || 1;
  bar.value = 0;
  bar.setAttribute('aria-label', file.name);
  const said = document.createElement('span');
  said.setAttribute('role', 'status');
  element.append(name, ' ', bar, ' ', said);
  list.append(element);
  return { file, element, bar, said, done: false };
}

/** How many are kept once one more is. */
function keptWith(lines) {
  return lines.filter((one) => one.done).length + 1;
}

async function sendAll(form, lines) {
  for (const one of lines) {
    if (!one.done) await sendOne(form, one, keptWith(lines));
  }
  delete form.dataset.sending;
  settle(form, lines);
}

function settle(form, lines) {
  if (lines.every((one) => one.done)) {
    const back = form.elements.back.value;
    if (back && back !== window.location.pathname) window.location.assign(back);
    else window.location.reload();
    return;
  }
  for (const one of lines) {
    if (one.done || one.retry) continue;
    one.retry = document.createElement('button');
    one.retry.type = 'button';
    one.retry.className = 'button';
    one.retry.textContent = `Send ${one.file.name} again`;
    one.retry.addEventListener('click', async () => {
      one.retry.remove();
      one.retry = null;
      await sendOne(form, one, keptWith(lines));
      settle(form, lines);
    });
    one.element.append(' ', one.retry);
  }
}

async function sendOne(form, one, kept) {
  for (let attempt = 0; ; attempt += 1) {
    try {
      one.said.textContent = 'on its way';
      await carry(form, one, kept);
      one.done = true;
      one.bar.value = one.bar.max;
      one.said.textContent = 'kept';
      return;
    } catch (error) {
      const pause = PAUSES_MS[attempt];
      if (error instanceof Refused || pause === undefined) {
        one.said.textContent = error instanceof Refused ? error.message : 'The connection broke.';
        return;
      }
      one.said.textContent = 'The connection broke; going on in a moment.';
      await new Promise((resolve) => window.setTimeout(resolve, pause));
    }
  }
}

async function carry(form, one, kept) {
  const { file } = one;
  const base = form.action.replace(/\/attachments$/, '/uploads');
  const belongsTo = form.elements.belongsTo?.value ?? form.elements.subjectId.value;
  const key = `upload ${belongsTo} ${file.name} ${file.size} ${file.lastModified}`;
  let uploadId = window.sessionStorage.getItem(key);
  let offset = 0;
  if (uploadId) {
    const known = await ask(form, 'GET', `${base}/${uploadId}`);
    if (known.status === 200) offset = known.answer.offset;
    else uploadId = null;
    if (known.answer.attachmentId) return window.sessionStorage.removeItem(key);
  }
  if (!uploadId) {
    const fields = new window.URLSearchParams({ name: file.name, bytes: String(file.size) });
    for (const name of ['subject', 'subjectId', 'caption']) fields.set(name, form.elements[name].value);
    if (form.elements.belongsTo) fields.set('belongsTo', belongsTo);
    if (form.elements.keepPosition?.checked) fields.set('keepPosition', 'yes');
    const begun = await ask(form, 'POST', base, {
      body: fields.toString(),
      type: 'application/x-www-form-urlencoded',
    });
    if (begun.status !== 201) throw problem(begun);
    uploadId = begun.answer.uploadId;
    window.sessionStorage.setItem(key, uploadId);
  }
  for (;;) {
    const sent = await ask(form, 'POST', `${base}/${uploadId}/pieces`, {
      body: file.slice(offset, offset + PIECE_BYTES),
      type: 'application/octet-stream',
      offset,
      kept,
      progress: (bytes) => (one.bar.value = offset + bytes),
    });
    if (sent.status === 409 && Number.isInteger(sent.answer.offset) && sent.answer.offset !== offset) {
      offset = sent.answer.offset;
    } else if (sent.status === 201 || sent.answer.attachmentId) {
      return window.sessionStorage.removeItem(key);
    } else if (sent.status === 200) {
      offset = sent.answer.offset;
    } else {
      if (sent.status === 422 || sent.status === 404) window.sessionStorage.removeItem(key);
      throw problem(sent);
    }
  }
}

function problem({ status, answer }) {
  const passes = status === 0 || status === 409 || status >= 500;
  return passes ? new Error('no answer') : new Refused(answer.sentence || 'The service refused it.');
}

/** XMLHttpRequest, because it alone tells how much of a body has gone. */
function ask(form, method, url, { body = null, type, offset, kept, progress } = {}) {
  return new Promise((resolve, reject) => {
    const request = new window.XMLHttpRequest();
    request.open(method, url);
    request.setRequestHeader('x-csrf-token', form.elements._csrf.value);
    if (type) request.setRequestHeader('content-type', type);
    if (offset !== undefined) request.setRequestHeader('upload-offset', String(offset));
    if (kept !== undefined) request.setRequestHeader('upload-kept', String(kept));
    if (progress) request.upload.addEventListener('progress', (event) => progress(event.loaded));
    request.addEventListener('error', () => reject(new Error('no connection')));
    request.addEventListener('load', () => {
      let answer = {};
      try {
        answer = JSON.parse(request.responseText);
      } catch {
        // A page in place of an answer: the status says enough.
      }
      resolve({ status: request.status, answer });
    });
    request.send(body);
  });
}
