import { visitTitles } from '../../inspection/checks/check.ts';
import { roles, type Role } from '../../people/roles.ts';
import type { EventPayloads, EventType } from '../../record/events/payloads.ts';
import { quoted, type Facts, type Told } from './facts.ts';

type Tell<Type extends EventType> = (payload: EventPayloads[Type], facts: Facts) => Told | null;
type Row<Type extends EventType> = Readonly<Partial<Record<Role, Tell<Type>>>>;
type Table = { readonly [Type in EventType]?: Row<Type> };

const many = (count: number, one: string, more: string) => (count === 1 ? `1 ${one}` : `${count} ${more}`);
const because = (reason: string) => (reason.trim() === '' ? '.' : `: ${quoted(reason)}`);

const project = (facts: Facts, rest = '') => `/projects/${facts.projectId}${rest}`;
const opening = (facts: Facts, rest = '') =>
  facts.openingId === null ? project(facts) : project(facts, `/openings/${facts.openingId}${rest}`);
const item = (facts: Facts) =>
  facts.itemId === null ? opening(facts) : project(facts, `/items/${facts.itemId}`);
const at = (facts: Facts) => (facts.openingName === '' ? '' : ` of ${quoted(facts.openingName)}`);

/**
 * To the owner: the opening's progress page and plain words; no reason, note or question of the others. A house may have
 * several openings, so that each line says of which it is.
 */
const forOwner = (line: string, facts: Facts): Told => ({
  line: facts.openingName === '' || line.includes(at(facts)) ? line : `${quoted(facts.openingName)}: ${line}`,
  path: opening(facts, '/progress'),
});

const asked: Tell<'question.asked'> = ({ text }, facts) => ({
  line: `${facts.actorName} asks about ${facts.itemTitle}${at(facts)}: ${quoted(text)}`,
  path: item(facts),
});
const answered: Tell<'question.answered'> = ({ text }, facts) => ({
  line: `${facts.actorName} answers about ${facts.itemTitle}${at(facts)}: ${quoted(text)}`,
  path: item(facts),
});
const noted: Tell<'note.saved'> = ({ number, attachmentId }, facts) =>
  number > 1
    ? null
    : {
        line: `${facts.actorName} put a note on a drawing or photo.`,
        path: project(facts, `/attachments/${attachmentId}/sheet`),
      };
const closedFor: Tell<'visit.closed'> = ({ visitId, outcome, portion, summary }, facts) => ({
  line: `${facts.actorName} closed the ${facts.visitKind} visit${at(facts)} as ${outcome.replaceAll('_', ' ')}${because(portion === '' ? summary : portion)}`,
  path: project(facts, `/visits/${visitId}`),
});

/** An inspection that the project added has its name in the plan alone; the checklist says it. */
const calledFor = (visitKey: string) => {
  const title = (visitTitles as Readonly<Record<string, string | undefined>>)[visitKey];
  return title === undefined ? 'an inspection' : quoted(title);
};

const outOfOrder: Tell<'work.logged'> = ({ title, doneOn, outOfOrder: against }, facts) => {
  const reasons = JSON.parse(against) as string[];
  return reasons.length === 0
    ? null
    : {
        line: `Out of order: ${facts.actorName} logged ${quoted(title)}${at(facts)} as done on ${doneOn}. ${reasons.join(' ')}`,
        path: opening(facts, '/sequence'),
      };
};
const takenBack: Tell<'work.withdrawn'> = ({ title, reason }, facts) => ({
  line: `${facts.actorName} took back the entry ${quoted(title)}${at(facts)}${because(reason)}`,
  path: opening(facts, '/sequence'),
});
const heldAgain: Tell<'hold_point.closed'> = ({ step, missing }, facts) => ({
  line: `Held again${at(facts)}: ${step}. ${missing.join('; ')}`,
  path: opening(facts, '/checklist'),
});

/** Steps that those who live there notice, in plain words; the others are the contractor's own affair. */
const ownersSteps: Readonly<Record<string, string>> = {
  shoring: 'The temporary supports are in. The wall still stays.',
  wall_out: 'The wall is out. The temporary supports carry the house.',
  beam_in: 'The new beam is in its place.',
  shoring_out: 'The temporary supports are out.',
  covered: 'Walls and ceiling are closed.',
};

/** Longer lists are on the page that the line leads to. */
const MOST_MOVES = 4;

function daysPlanned(reason: string, { movedDays }: Facts): string {
  if (reason === '') return 'Your contractor gave days for what comes next.';
  const why = `Why: ${quoted(reason)}`;
  if (movedDays.length === 0) return `Your contractor planned the days anew. ${why}`;
  const further = movedDays.length - MOST_MOVES;
  return [
    movedDays.length === 1 ? 'A day of the work moved.' : 'Days of the work moved.',
    ...movedDays.slice(0, MOST_MOVES),
    ...(further > 0 ? [`And ${many(further, 'other day', 'other days')}.`] : []),
    why,
  ].join(' ');
}

const ownersWords: Readonly<Record<string, string>> = {
  passed: 'was there, and what was looked at is in order.',
  partial: 'was there; part of the work may go on, the rest is looked at again.',
  correction_needed: 'was there and asked for something to be put right. The inspector comes again.',
  not_ready: 'was there, and the work was not ready to be looked at yet.',
  no_access: 'came and could not get in.',
  stop_work: 'stopped the work. Call your contractor.',
};

/**
 * Who hears of what: kind of event × role → the line and where it leads. What is not here is told to nobody (it is in
 * the log). The actor hears nothing of what he did himself. A link leads only where the role may go.
 */
export const told: Table = {
  'member.joined': {
    contractor: ({ name, role }, facts) => ({
      line: `${name} joined as ${role}.`,
      path: project(facts, '/people'),
    }),
  },
  'versions.submitted': {
    engineer: ({ versions, note }, facts) => ({
      line: `${facts.actorName} handed over ${many(versions.length, 'item', 'items')}${at(facts)} for your review${because(note)}`,
      path: opening(facts),
    }),
    owner: (_, facts) =>
      forOwner(`The plan${at(facts)} is with the engineer, who looks at every part of it.`, facts),
  },
  'version.marked': {
    contractor: ({ word, reason }, facts) => ({
      line: `${facts.actorName} marked ${facts.itemTitle}${at(facts)}${facts.versionNumber === null ? '' : `, version ${facts.versionNumber},`} as ${word}${because(reason)}`,
      path: item(facts),
    }),
  },
  'set.issued': {
    contractor: ({ number, entries, setId }, facts) => ({
      line: `${facts.actorName} issued approved set ${number}${at(facts)} with ${many(entries.length, 'item', 'items')}.`,
      path: project(facts, `/sets/${setId}`),
    }),
    inspector: ({ number }, facts) => ({
      line: `Approved set ${number}${at(facts)} is issued; its checklist is ready.`,
      path: opening(facts, '/checklist'),
    }),
    owner: ({ number }, facts) =>
      forOwner(`The engineer has approved plan number ${number}${at(facts)}.`, facts),
  },
  'finding.recorded': {
    contractor: ({ result, reason, visitId }, facts) =>
      result === 'correction'
        ? {
            line: `${facts.actorName} needs a correction${at(facts)}${because(reason)}`,
            path: project(facts, `/visits/${visitId}`),
          }
        : null,
  },
  'visit.closed': {
    contractor: closedFor,
    engineer: closedFor,
    owner: ({ outcome }, facts) => {
      const words = ownersWords[outcome];
      return words === undefined ? null : forOwner(`The inspector ${words}`, facts);
    },
  },
  'delivery.mismatched': {
    engineer: ({ differences, deliveryId }, facts) => ({
      line: `${facts.actorName} checked a delivery${at(facts)} that does not match: ${(JSON.parse(differences) as string[]).join(' ')}`,
      path: project(facts, `/deliveries/${deliveryId}`),
    }),
  },
  'correction.answered': {
    inspector: ({ note }, facts) => ({
      line: `${facts.actorName} says that a correction${at(facts)} is done: ${quoted(note)}`,
      path: opening(facts, '/checklist'),
    }),
  },
  'visit.called': {
    inspector: ({ visitKey, note, shared }, facts) => ({
      line: `${facts.actorName} calls for ${calledFor(visitKey)}${at(facts)}${because(note)}${shared === '' ? '' : ` By the own look: ${shared}`}`,
      path: opening(facts, '/checklist'),
    }),
  },
  'hold_point.closed': { contractor: heldAgain, inspector: heldAgain },
  'work.logged': {
    engineer: outOfOrder,
    inspector: outOfOrder,
    owner: ({ step }, facts) => {
      const words = ownersSteps[step];
      return words === undefined ? null : forOwner(words, facts);
    },
  },
  'work.withdrawn': { engineer: takenBack, inspector: takenBack },
  'sequence.planned': { owner: ({ reason }, facts) => forOwner(daysPlanned(reason, facts), facts) },
  'salvage.listed': {
    owner: ({ what, howMany }, facts) => ({
      line: `Your contractor asks what becomes of ${quoted(what)} (${howMany}), which comes out and can be used again.`,
      path: opening(facts, '/salvage'),
    }),
  },
  'salvage.worded': {
    contractor: ({ what, word, note }, facts) => ({
      line: `${facts.actorName} says of ${quoted(what)}: ${word.replaceAll('_', ' ')}${because(note)}`,
      path: opening(facts, '/salvage'),
    }),
    owner: ({ what, word }, facts) =>
      word === 'gone'
        ? { line: `${quoted(what)} has left the house, as you decided.`, path: opening(facts, '/salvage') }
        : null,
  },
  'question.asked': { contractor: asked, engineer: asked },
  'question.answered': { contractor: answered, engineer: answered },
  'note.saved': { contractor: noted, engineer: noted },
  'owner.said': {
    contractor: ({ text }, facts) => ({
      line: `${facts.actorName} writes on the owner’s page${at(facts)}: ${quoted(text)}`,
      path: opening(facts, '/progress'),
    }),
    owner: ({ text }, facts) => forOwner(`Your contractor writes to you: ${quoted(text)}`, facts),
  },
  'attachment.shared': {
    owner: ({ shared }, facts) =>
      shared ? forOwner('Your contractor shared a photo or drawing with you.', facts) : null,
  },
};

/** What a member in this role hears of an event; null where nothing. */
export function toldTo<Type extends EventType>(
  role: Role,
  type: Type,
  payload: EventPayloads[Type],
  facts: Facts,
): Told | null {
  const row: Row<Type> | undefined = told[type];
  return row?.[role]?.(payload, facts) ?? null;
}

const NOTHING_LOOKED_UP: Facts = {
  projectId: '',
  actorName: '',
  openingId: null,
  openingName: '',
  itemId: null,
  itemTitle: '',
  versionNumber: null,
  visitKind: '',
  movedDays: [],
};

/** The roles that hear of an event. What was looked up only words a line; whether there is one, the event alone says. */
export function hearersOf<Type extends EventType>(type: Type, payload: EventPayloads[Type]): readonly Role[] {
  return roles.filter((role) => toldTo(role, type, payload, NOTHING_LOOKED_UP) !== null);
}
