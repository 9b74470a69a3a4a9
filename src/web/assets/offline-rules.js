// What the phone decides by itself while it keeps a visit. Pure: no storage, no network, no page.
import { minuteText } from './moments.js';

export const AT_ONCE = 25;
const MOST_PHOTOS = 20;
/** As src/attachments/notes/squares.ts has it. */
const SQUARE = /^[A-J](10|[1-9])$/;
export const isSquare = (text) => SQUARE.test(text);
const PHOTO_TYPES = ['image/jpeg', 'image/png', 'image/webp', 'image/heic', 'image/heif'];

const several = (count, one, many) => `${count} ${count === 1 ? one : many}`;

/** A time as this phone writes it, to the minute. */
export const time = minuteText;

/** The clear line: what is not sent yet. */
export function waitingWords({ findings, photos }) {
  const parts = [];
  if (findings > 0) parts.push(several(findings, 'finding', 'findings'));
  if (photos > 0) parts.push(several(photos, 'photo', 'photos'));
  if (parts.length === 0) return 'Everything is sent.';
  return `${parts.join(' and ')} ${findings + photos === 1 ? 'waits' : 'wait'} to be sent.`;
}

export function countWaiting(findings, photos) {
  const waits = (one) => one.state === 'waiting';
  return { findings: findings.filter(waits).length, photos: photos.filter(waits).length };
}

/** A finding that never left the phone; one that did may have arrived, whatever its answer. */
export const mayTakeBack = ({ state, offered }) => state === 'waiting' && offered !== true;

/** What an answer of the service means for what is kept. Only "done" and "refused" settle anything. */
export function meaningOf({ type, status }) {
  if (type === 'opaqueredirect') return 'sign in';
  if (status >= 200 && status < 300) return 'done';
  if (status === 404) return 'not a member';
  if (status === 403) return 'role';
  if (status === 409) return 'order';
  if (status === 413 || status === 415 || status === 422) return 'refused';
  return 'later';
}

export const troubleWords = {
  'sign in': 'You are signed out. Sign in, and what is kept goes on its way.',
  'not a member':
    'You are not a member of this project any more. Nothing can be sent; what you recorded stays on this phone until you throw it away.',
  role: 'You are not an inspector of this project any more. What you recorded stays on this phone until you throw it away.',
  'other person': 'Somebody else is signed in. What is kept here is sent when its own person signs in.',
  order: 'The service misses a finding that was sent before. Nothing is lost; tell whoever runs it.',
  refused: 'The service could not read what was sent. Nothing is lost; tell whoever runs it.',
  later: 'No network; it goes by itself later.',
};

const inOrder = (findings) => [...findings].sort((one, other) => one.order - other.order);

/** What goes next, in the order in which it was found, and the finding that arrived before it. */
export function nextDelivery(findings) {
  const arrived = inOrder(findings).filter(({ state }) => state === 'kept' || state === 'late');
  const next = inOrder(findings).filter(({ state }) => state === 'waiting');
  return { after: arrived.at(-1)?.id ?? null, findings: next.slice(0, AT_ONCE) };
}

/** A finding as it is sent. */
export function sendable({ id, checkId, result, reason, location, place = null, at }, photos) {
  return {
    id,
    checkId,
    result,
    reason,
    location,
    place,
    at,
    photos: photos.map((photo) => ({ id: photo.id, name: photo.name, bytes: photo.bytes })),
  };
}

/** Where a check stands for the inspector: what this phone found last, else what the kept copy says. */
export function stateOf(check, findings) {
  const own = inOrder(findings).filter((one) => one.checkId === check.checkId && one.state !== 'refused');
  const last = own.at(-1);
  if (last === undefined || last.inCopy) return check.state;
  return last.result;
}

/** The sentence that keeps a finding from being kept, or null. */
export function problemOf({ result, reason, location, place = null }) {
  if (result === 'correction' && reason.trim() === '') return 'Say what has to be put right.';
  if (result === 'not_applicable' && reason.trim() === '') return 'Say why it does not apply.';
  if (reason.trim().length > 4000) return 'That is longer than 4000 characters; shorten it.';
  if (location.trim().length > 200) return 'Place: use at most 200 characters.';
  if (place !== null && !isSquare(place.square))
    return 'Square: a letter from A to J and a number from 1 to 10, such as C4.';
  return null;
}

/** The sentence that keeps photos from being kept, or null. Nothing is re-encoded: what the camera wrote stays. */
export function photoProblem(files, largestBytes) {
  if (files.length > MOST_PHOTOS) return `A finding takes at most ${MOST_PHOTOS} photos.`;
  for (const { name, type, size } of files) {
    if (!PHOTO_TYPES.includes(type)) return `${name}: photos are JPEG, HEIC, PNG or WebP.`;
    if (size === 0) return `${name} is empty.`;
    if (size > largestBytes)
      return `${name} is larger than ${Math.floor(largestBytes / 1024 / 1024)} MB, the most that is kept.`;
  }
  return null;
}

/** What a visit's kept copy holds, in words. */
export function keptWords({ checks, drawings, photos }) {
  const pages = drawings.reduce((sum, drawing) => sum + drawing.pages.length, 0);
  const drawn =
    drawings.length === 0
      ? 'no drawing'
      : `${several(drawings.length, 'drawing', 'drawings')} (${several(pages, 'page', 'pages')})`;
  return `${several(checks.length, 'check', 'checks')}, ${drawn}, ${several(photos.length, 'photo', 'photos')}`;
}
