// Conveniences on top of pages that work without them. Nothing here decides anything; the server does.
import { showWhatIsAsked } from './asked.js';
import { keepOnServer } from './autosave.js';
import { keepDraft, dropDrafts, settleSentDrafts } from './drafts.js';
import { tellChanges } from './changes.js';
import { recomputeAsTyped } from './live-result.js';
import { readBackLengths } from './length-reading.js';
import { writeMoments } from './moments.js';
import { chooseOwnZone } from './own-zone.js';
import { placeNotes } from './sheet-notes.js';
import { sendInPieces } from './uploads.js';
import { askBeforeSending, guardSending } from './sending.js';

writeMoments();
askBeforeSending();
settleSentDrafts();
for (const form of document.forms) {
  showWhatIsAsked(form);
  chooseOwnZone(form);
  if (form.dataset.keep) keepDraft(form);
  if (form.dataset.autosave) keepOnServer(form);
  if (form.dataset.upload) sendInPieces(form);
  guardSending(form);
  if (form.dataset.live) recomputeAsTyped(form);
  // A tablet that goes from hand to hand: what was kept leaves with the person.
  if (form.getAttribute('action') === '/sign-out') form.addEventListener('submit', dropDrafts);
}
readBackLengths();
tellChanges();
placeNotes();
document.querySelector('[data-error-summary]')?.focus();

// By itself, so that a browser without storage or workers has everything above all the same.
import('./offline.js').catch(() => undefined);
