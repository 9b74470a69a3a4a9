import { dayText } from '../../house-time.ts';
import { joined } from '../prose.ts';
import type { EventPayloads, EventType } from './payloads.ts';

type Words = { readonly [Type in EventType]: (payload: EventPayloads[Type]) => string };

const count = (number: number, one: string, many: string) =>
  number === 1 ? `1 ${one}` : `${number} ${many}`;
/** In the thousands that file managers count in. */
const sizeWords = (bytes: number) =>
  bytes < 950_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
const dayWords = (day: string) => dayText(new Date(`${day}T00:00:00Z`), 'UTC');
const because = (reason: string) => (reason === '' ? '' : `: “${reason}”`);

const serviceWords = {
  made_safe: 'a service was proved dead or shut off',
  live_again: 'a service was made live again',
  carried_out: 'what becomes of a service was carried out',
  checked: 'a service was checked after the work',
} as const;

const projectLines: Readonly<Record<string, string>> = {
  name: 'the name',
  address: 'the address',
  jurisdiction: 'the city or county',
  permitNumber: 'the permit number',
  timeZone: 'the time zone',
};
const lineWords = (key: string, value: string | boolean) =>
  `${projectLines[key] ?? key}${value === '' ? ' to none' : ` to “${value}”`}`;

const foundWords: Readonly<Record<string, string>> = {
  pass: 'found in order',
  correction: 'found a correction to make',
  not_applicable: 'found that it does not apply',
};

const salvageWords = {
  keep: 'keeps what comes out',
  give_away: 'gives away what comes out',
  throw_away: 'has no use for what comes out',
  gone: 'says that it left the house',
  taken_off: 'took off the list of what comes out',
} as const;

/** Each event as a line of the log, in plain words. A type without words does not compile. */
const words: Words = {
  'project.created': ({ name }) => `made the project “${name}”`,
  'project.edited': ({ changed }) =>
    `changed ${joined(Object.entries(changed).map(([key, value]) => lineWords(key, value)))}`,
  'opening.created': ({ ordinal, name }) => `added opening ${ordinal}, “${name}”`,
  'invitation.made': ({ role, label }) => `made an invitation for ${label}, as ${role}`,
  'invitation.withdrawn': () => 'withdrew an invitation',
  'member.joined': ({ name, role }) => `${name} joined as ${role}`,
  'member.removed': ({ name, role }) => `took ${name} out (${role})`,
  'webhook.made': ({ host, kinds }) =>
    `has ${host} told of what happens (${count(kinds.length, 'kind', 'kinds')} of events)`,
  'webhook.ended': () => 'ended the telling of an address outside',
  'item.created': ({ title, key }) => `added ${title} (${key})`,
  'version.saved': ({ number, origin, reason }) =>
    origin === 'recalculated'
      ? `recalculated version ${number}: ${reason.replace(/^Recalculated: /, '')}`
      : `saved version ${number}${because(reason)}`,
  'versions.submitted': ({ number, versions, note }) =>
    `submission ${number}: ${count(versions.length, 'version', 'versions')} handed to the engineer${because(note)}`,
  // Its number is that of the word on the version; which version it is, the log says before these words.
  'version.marked': ({ word, reason }) => `marked ${word}${because(reason)}`,
  'set.issued': ({ number, entries }) =>
    `issued approved set ${number} with ${count(entries.length, 'item', 'items')}`,
  'checklist.produced': ({ number, checks }) =>
    `produced the checklist of set ${number}, ${count(checks, 'check', 'checks')}`,
  'attachment.added': ({ mediaType, bytes }) =>
    `added ${mediaType.startsWith('image/') ? 'a picture' : 'a document'}, ${sizeWords(bytes)}`,
  'attachment.shared': ({ shared }) =>
    shared ? 'showed a file to the owner' : 'took a file back from the owner’s page',
  // What they say to each other is theirs.
  'owner.said': () => 'wrote on the owner’s page',
  'family.linkMade': () => 'made a link that shows the owner’s page',
  'family.linkRevoked': () => 'took back a link to the owner’s page',
  'note.saved': ({ number }) =>
    number === 1
      ? 'put a note on a drawing or photo'
      : `changed a note on a drawing or photo (version ${number})`,
  'visit.opened': ({ number, kind }) => `opened visit ${number} (${kind})`,
  'finding.recorded': ({ result, reason }) => `${foundWords[result] ?? `found ${result}`}${because(reason)}`,
  'finding.delivered': ({ findingId, result, reason, photos }) =>
    `sent a finding that the phone had kept${photos.length === 0 ? '' : `, with ${count(photos.length, 'photo', 'photos')} to come`}${
      findingId === null ? `; late, its visit was closed: ${result.replace('_', ' ')}${because(reason)}` : ''
    }`,
  'photo.delivered': () => 'sent a photo that the phone had kept',
  'late.placed': () => 'placed a late finding into a visit',
  'late.setAside': ({ reason }) => `set a late finding aside${because(reason)}`,
  'visit.closed': ({ outcome, portion, summary }) =>
    `closed a visit as ${outcome.replaceAll('_', ' ')}${because(portion)}${because(summary)}`,
  'inspections.planned': ({ number, words }) => `changed the inspections (plan ${number}): ${words}`,
  'hold.accepted': ({ step, basis }) => `accepted in place of an inspection: ${step}${because(basis)}`,
  'hold_point.closed': ({ step, missing }) => `“${step}” is held again: ${joined(missing)}`,
  'correction.answered': ({ note }) => `answered a correction: “${note}”`,
  'visit.setChosen': ({ goesOn }) =>
    goesOn
      ? 'went on with the visit by the set issued meanwhile'
      : 'chose to end the visit by the set it was begun with, though a later one was issued',
  'self_check.answered': ({ word, note }) =>
    `looked at a check before calling: ${word.replace('_', ' ')}${because(note)}`,
  'visit.called': ({ note }) => `called for an inspection${because(note)}`,
  'service.acted': ({ word, who, note }) => `${serviceWords[word]} by ${who}${because(note)}`,
  'sequence.planned': ({ number, reason }) => `planned the order of work (plan ${number})${because(reason)}`,
  'work.logged': ({ title, doneOn, who, outOfOrder }) => {
    const against = JSON.parse(outOfOrder) as string[];
    const flag = against.length === 0 ? '' : `. Out of order: ${against.join(' ')}`;
    return `logged “${title}” as done on ${dayWords(doneOn)} by ${who}${flag}`;
  },
  'work.withdrawn': ({ title, reason }) => `took back the entry “${title}”${because(reason)}`,
  'salvage.listed': ({ what, howMany }) => `listed for use again: ${what}, ${howMany}`,
  'salvage.worded': ({ what, word, note }) => `${salvageWords[word]}: ${what}${because(note)}`,
  'order.placed': ({ number, yard, lines }) =>
    `placed order ${number}${yard === '' ? '' : ` at ${yard}`}: ${count((JSON.parse(lines) as unknown[]).length, 'line', 'lines')}`,
  'delivery.received': ({ number, yard }) =>
    `received delivery ${number}${yard === '' ? '' : ` from ${yard}`}`,
  'delivery.matched': () => 'checked a delivered line: it matches',
  'delivery.mismatched': ({ differences }) =>
    `checked a delivered line: ${(JSON.parse(differences) as string[]).join(' ')}`,
  'delivery.withdrawn': ({ reason, note }) =>
    `${reason === 'sent_back' ? 'sent a delivered line back' : 'took out a delivered line that was entered wrongly'}${because(note)}`,
  'question.asked': ({ text }) => `asked: “${text}”`,
  'question.answered': ({ text }) => `answered: “${text}”`,
  'question.closed': ({ text }) => `closed a question${because(text)}`,
};

/** The words for an event as read back from the log; an unknown type (of a later version) is named as it is. */
export function eventWords(type: string, payload: unknown): string {
  const say = (words as Record<string, ((payload: never) => string) | undefined>)[type];
  return say === undefined ? type : say(payload as never);
}
