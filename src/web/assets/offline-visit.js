// A kept visit, drawn from this phone alone: what is kept, what changed meanwhile, each check with its form.
import { keptWords, mayTakeBack, photoProblem, problemOf, stateOf, time } from './offline-rules.js';
import { addFinding, dropFinding, takeBack } from './offline-store.js';

const { crypto, navigator } = window;
const resultWords = {
  pass: 'Pass',
  correction: 'Correction needed',
  not_applicable: 'Does not apply',
};

function fromTemplate(name) {
  return document.querySelector(`template[data-template=${name}]`).content.cloneNode(true);
}
const part = (root, name) => root.querySelector(`[data-${name}]`);
function say(root, name, words) {
  const one = part(root, name);
  one.textContent = words;
  one.hidden = words === '';
}

export function drawVisit(place, visit, findings, photos, { throwAway }) {
  const { copy } = visit;
  if (place.dataset.visit !== visit.key) {
    place.dataset.visit = visit.key;
    place.replaceChildren(fromTemplate('visit'));
    part(place, 'checks').replaceChildren(...copy.checks.map((check) => checkElement(check, visit)));
    part(place, 'throw-away').addEventListener('click', throwAway);
  }
  say(place, 'title', `Visit ${copy.visit.number}: ${copy.visit.title}`);
  say(
    place,
    'where',
    `${copy.project.name}, ${copy.visit.opening}. Set ${copy.set.number}, ${copy.set.hash.slice(0, 12)}.`,
  );
  const missing = visit.picturesMissing > 0 ? ` ${visit.picturesMissing} pictures could not be kept.` : '';
  say(
    place,
    'kept',
    `On this phone since ${time(visit.keptAt)}, for ${copy.person.name}: ${keptWords(copy)}.${missing}`,
  );
  part(place, 'live').href = `/projects/${visit.projectId}/visits/${visit.visitId}`;
  part(place, 'live-end').href = `/projects/${visit.projectId}/visits/${visit.visitId}#close`;
  part(place, 'to-close').hidden = copy.closed !== null;
  part(place, 'late-link').href = `/projects/${visit.projectId}/visits/${visit.visitId}`;
  drawChanges(place, visit);
  drawDrawings(place, copy);
  // Our own pages' words, drawn and escaped by the service.
  const cautions = part(place, 'cautions');
  if (cautions.dataset.of !== visit.keptAt) {
    cautions.dataset.of = visit.keptAt;
    cautions.innerHTML = copy.cautions;
  }
  const states = copy.checks.map((check) => drawCheck(place, check, visit, findings, photos));
  const count = (wanted) => states.filter((state) => state === wanted).length;
  say(place, 'left', `${count('open')} to look at, ${count('correction')} to be put right.`);
  const gone = visit.trouble === 'not a member' || visit.trouble === 'role';
  const waits = [...findings, ...photos].some((one) => one.state === 'waiting');
  const button = part(place, 'throw-away');
  button.hidden = waits && !gone;
  button.textContent = waits ? 'Throw away what is kept' : 'Take it off this phone';
}

/** What happened since it was kept: a later set, a closing by somebody else. */
function drawChanges(place, { copy }) {
  const { later, closed } = copy;
  part(place, 'later').hidden = later === null;
  if (later !== null) {
    say(place, 'later-title', `Set ${later.number} is in force`);
    const words = { changed: 'changed, open again', gone: 'not asked any more', new: 'new' };
    const items = later.differences.map(({ title, is, before, now }) => {
      const item = document.createElement('li');
      const name = document.createElement('strong');
      name.textContent = `${title}: ${words[is]}.`;
      const lines = [before && `Was ${before}`, now && `Now ${now}`].filter(Boolean).join(' — ');
      item.append(name, ` ${lines}`);
      return item;
    });
    part(place, 'differences').replaceChildren(...items);
  }
  part(place, 'closed').hidden = closed === null;
  if (closed !== null) {
    const outcome = closed.outcome.replaceAll('_', ' ');
    say(
      place,
      'closed-words',
      `${closed.closedByName} closed it as “${outcome}”, ${time(closed.closedAt)}. What you record, or recorded, comes late: it is kept, and an inspector places it into a new visit.`,
    );
  }
}

function drawDrawings(place, { drawings }) {
  part(place, 'drawings').hidden = drawings.length === 0;
  const pages = drawings.flatMap((drawing) => drawing.pages);
  const list = part(place, 'drawing-list');
  if (list.children.length === pages.length) return;
  list.replaceChildren(
    ...pages.map(({ url, words }) => {
      const item = document.createElement('li');
      item.className = 'gallery__one';
      const link = document.createElement('a');
      link.href = url;
      const picture = document.createElement('img');
      picture.src = url;
      picture.alt = words;
      picture.loading = 'lazy';
      const line = document.createElement('p');
      line.className = 'small';
      line.textContent = words;
      link.append(picture);
      item.append(link, line);
      return item;
    }),
  );
}

function checkElement(check, visit) {
  const one = fromTemplate('check').querySelector('li');
  one.id = `check-${check.checkId}`;
  say(one, 'name', check.title);
  say(one, 'wanted', check.photoRequired ? '(wanted)' : '(optional)');
  for (const label of one.querySelectorAll('label')) {
    const field = label.parentElement.querySelector('input, textarea, select');
    field.id = `f-${field.name}-${check.checkId}`;
    label.htmlFor = field.id;
  }
  offerSquares(one, visit.copy.drawings);
  const form = one.querySelector('form');
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    void record(form, event.submitter?.value, check, visit);
  });
  return one;
}

/** The drawings on which a place can be told, and their pictures with the squares. */
function offerSquares(one, drawings) {
  const told = drawings.filter(({ sheetId, grid }) => sheetId && grid);
  part(one, 'on-drawing').hidden = told.length === 0;
  const choices = told.map(({ sheetId, title, revision }) => {
    const choice = document.createElement('option');
    choice.value = sheetId;
    choice.textContent = `${title}, revision ${revision}`;
    return choice;
  });
  one.querySelector('select').replaceChildren(...choices);
  const links = told.map(({ grid }) => {
    const link = document.createElement('a');
    link.className = 'jump';
    link.href = grid.url;
    link.textContent = grid.words;
    return link;
  });
  part(one, 'grids').replaceChildren(
    ...links.flatMap((link, index) => (index === 0 ? [link] : [', ', link])),
  );
}

function drawCheck(place, check, visit, findings, photos) {
  const one = place.querySelector(`#check-${check.checkId}`);
  // A check that came with a newer copy than the one drawn.
  if (one === null) return check.state;
  if (one.dataset.of !== visit.keptAt) {
    one.dataset.of = visit.keptAt;
    const details = part(one, 'details');
    details.innerHTML = check.details;
    for (const picture of details.querySelectorAll('.gallery__one img')) {
      picture.closest('a').href = picture.getAttribute('src');
    }
    for (const download of details.querySelectorAll('.gallery__one p a')) download.remove();
  }
  const state = stateOf(check, findings);
  const chips = part(one, 'chips');
  if (chips.dataset.state !== state) {
    chips.dataset.state = state;
    chips.replaceChildren(fromTemplate(`chip-${state}`));
  }
  const own = findings.filter((finding) => finding.checkId === check.checkId && !finding.inCopy);
  part(one, 'own').replaceChildren(
    ...own.sort((a, b) => a.order - b.order).map((finding) => ownElement(finding, photos)),
  );
  const box = one.querySelector('details.record');
  const settled = state !== 'open' && state !== 'correction';
  if (box.dataset.settled !== String(settled || own.length > 0)) {
    box.dataset.settled = String(settled || own.length > 0);
    box.open = !(settled || own.length > 0);
  }
  part(one, 'record-words').textContent = own.length > 0 || settled ? 'Look again' : 'Record what you found';
  return state;
}

function ownElement(finding, photos) {
  const one = fromTemplate('own').firstElementChild;
  say(one, 'result', resultWords[finding.result]);
  const square = finding.place ? `, square ${finding.place.square}` : '';
  const where = `${finding.location ? `, at ${finding.location}` : ''}${square}`;
  const why = finding.reason ? `: ${finding.reason}` : '';
  say(one, 'said-what', `, ${time(finding.at)}${where}${why}`);
  const own = photos.filter((photo) => photo.findingId === finding.id).sort((a, b) => a.place - b.place);
  const photosWait = own.filter((photo) => photo.state === 'waiting').length;
  const words = {
    waiting: mayTakeBack(finding)
      ? 'Waits to be sent.'
      : 'Waits for its answer. It may have arrived, so it can’t be taken back here; look again to record it anew.',
    kept: photosWait > 0 ? `Sent; ${photosWait} of ${own.length} photos wait.` : 'Sent.',
    late: 'Sent, after the visit was closed: an inspector places it into a new one.',
    refused: `Not taken: ${finding.sentence}`,
  };
  say(one, 'state', words[finding.state]);
  one.dataset.state = finding.state;
  const pictures = own.map((photo) => {
    const item = document.createElement('li');
    if (photo.blob) {
      const picture = document.createElement('img');
      picture.src = `/on-site/photo/${photo.id}`;
      picture.alt = photo.name;
      item.append(picture);
    }
    const line = document.createElement('span');
    line.className = 'small';
    const state = { waiting: 'waits', kept: 'sent', refused: `not taken: ${photo.sentence ?? ''}` };
    line.textContent = `${photo.name}: ${state[photo.state]}`;
    item.append(line);
    return item;
  });
  part(one, 'photos').replaceChildren(...pictures);
  const back = part(one, 'back');
  back.hidden = !mayTakeBack(finding);
  back.addEventListener('click', async () => {
    const pictures =
      own.length === 0 ? '' : own.length === 1 ? ' and its photo' : ` and its ${own.length} photos`;
    const what = `“${resultWords[finding.result]}”${where}${why}`;
    if (!window.confirm(`Take back ${what}${pictures}? It was not sent, and nobody will see it.`)) return;
    if (!(await takeBack(finding.id)))
      window.alert('It is on its way already. Look again to record it anew.');
  });
  const drop = part(one, 'drop');
  drop.hidden = finding.state !== 'refused';
  drop.addEventListener('click', async () => {
    if (window.confirm('Throw this finding away?')) await dropFinding(finding.id);
  });
  return one;
}

/** Keeps what was found, with the time of this moment, then asks for it to be sent. */
async function record(form, result, check, visit) {
  if (form.dataset.sending === 'yes' || !result) return;
  const { reason, location, sheetId, square } = form.elements;
  const files = [...form.elements.photo.files];
  const told = square.value.trim().toUpperCase();
  const place = told === '' ? null : { sheetId: sheetId.value, square: told };
  const said = { result, reason: reason.value.trim(), location: location.value.trim(), place };
  const problem = problemOf(said) ?? photoProblem(files, visit.copy.largestPhotoBytes);
  say(form, 'problem', problem ?? '');
  if (problem !== null) {
    form.querySelector('details').open ||= result !== 'pass';
    if (problem.startsWith('Say')) reason.focus();
    if (problem.startsWith('Square')) square.focus();
    return;
  }
  form.dataset.sending = 'yes';
  const at = new Date().toISOString();
  try {
    const photos = await Promise.all(
      files.map(async (file) => {
        // Read now: a file that the gallery takes back later would be lost.
        const blob = new window.Blob([await file.arrayBuffer()], { type: file.type });
        return { name: file.name, type: file.type, bytes: blob.size, blob };
      }),
    );
    await addFinding(
      { id: crypto.randomUUID(), visitKey: visit.key, checkId: check.checkId, ...said, at },
      photos,
    );
  } catch (error) {
    const full = error.name === 'QuotaExceededError';
    say(
      form,
      'problem',
      full
        ? 'There is no room left on this phone. It is not kept.'
        : 'The photo could not be read. It is not kept; choose it again.',
    );
    return;
  } finally {
    delete form.dataset.sending;
  }
  form.reset();
  form.dispatchEvent(new window.CustomEvent('kept', { bubbles: true }));
  const registration = await navigator.serviceWorker?.getRegistration();
  await registration?.sync?.register('send-kept').catch(() => undefined);
}
