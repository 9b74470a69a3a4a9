import { sha256Hex } from '../../../src/record/canonical.ts';
import type { Ids, Scene } from '../support/scene.ts';

/** The record that is tampered with. */
export interface Place {
  readonly scene: Scene;
  readonly ids: Ids;
}

/** One change by raw SQL, and how it must come out. */
export interface Tampering {
  readonly what: string;
  readonly table: string;
  readonly sql: (place: Place) => string;
  readonly sentence: RegExp;
  /** The table where it shows first, where that is another one. */
  readonly shows?: string;
}

const project = ({ scene }: Place) => `project_id = '${scene.projectId}'`;
const beamVersion = ({ ids }: Place) => `item_id = '${ids.beam}' AND number = 1`;
const eventOf = (place: Place, type: string) => `${project(place)} AND type = '${type}'`;

/** Everything of a full record that a version, mark, submission, set, question or event says. */
export const tamperings: readonly Tampering[] = [
  {
    what: 'a content',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET content = replace(content, '9.5', '9.25') WHERE ${beamVersion(place)}`,
    sentence: /content does not have the hash/,
  },
  {
    what: 'a space in a content',
    table: 'version',
    sql: (place) => `UPDATE version SET content = replace(content, ',', ', ') WHERE ${beamVersion(place)}`,
    sentence: /content is not canonical/,
  },
  {
    what: 'a figure it rests on',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET rests_on = replace(rests_on, '144', '132') WHERE ${beamVersion(place)}`,
    sentence: /does not have the hash/,
  },
  {
    what: 'a figure of the calculation',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET calculation = replace(calculation, '7200', '7100') WHERE ${beamVersion(place)}`,
    sentence: /calculation does not have the hash/,
  },
  {
    what: 'the calculation with its hash',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET calculation = '', calculation_hash = '${sha256Hex('')}' WHERE ${beamVersion(place)}`,
    sentence: /does not have the hash/,
  },
  {
    what: 'the engine’s version',
    table: 'version',
    sql: (place) => `UPDATE version SET engine_version = 'later' WHERE ${beamVersion(place)}`,
    sentence: /does not have the hash/,
  },
  {
    what: 'the author of a version',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET author_id = '${place.scene.engineer.personId}' WHERE ${beamVersion(place)}`,
    sentence: /authorId is not what event/,
  },
  {
    what: 'the reason of a version',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET reason = 'none' WHERE item_id = '${place.ids.fastening}' AND number = 2`,
    sentence: /reason is not what event/,
  },
  {
    what: 'the time of a version',
    table: 'version',
    sql: (place) =>
      `UPDATE version SET created_at = created_at - interval '1 day' WHERE ${beamVersion(place)}`,
    sentence: /time is not that of event/,
  },
  {
    what: 'the kind of an item',
    table: 'item',
    sql: (place) => `UPDATE item SET kind = 'hanger' WHERE id = '${place.ids.beam}'`,
    sentence: /does not have the hash/,
    shows: 'version',
  },
  {
    what: 'a returned mark into an approval',
    table: 'mark',
    sql: (place) => `UPDATE mark SET word = 'approved' WHERE ${project(place)} AND word = 'returned'`,
    sentence: /word is not what event/,
  },
  {
    what: 'whose mark it is',
    table: 'mark',
    sql: (place) =>
      `UPDATE mark SET by_id = '${place.scene.secondEngineer.personId}' WHERE ${project(place)}`,
    sentence: /byId is not what event/,
  },
  {
    what: 'the hash a mark names',
    table: 'mark',
    sql: (place) => `UPDATE mark SET version_hash = '${sha256Hex('x')}' WHERE ${project(place)}`,
    sentence: /versionHash is not what event/,
  },
  {
    what: 'a submission’s entries',
    table: 'submission_entry',
    sql: (place) =>
      `DELETE FROM submission_entry USING version v WHERE v.id = version_id AND v.item_id = '${place.ids.beam}'`,
    sentence: /other versions than event/,
    shows: 'submission',
  },
  {
    what: 'the note of a submission',
    table: 'submission',
    sql: (place) => `UPDATE submission SET note = 'urgent' WHERE ${project(place)}`,
    sentence: /note is not what event/,
  },
  {
    what: 'who submitted',
    table: 'submission',
    sql: (place) =>
      `UPDATE submission SET by_id = '${place.scene.engineer.personId}' WHERE ${project(place)}`,
    sentence: /byId is not the person of event/,
  },
  {
    what: 'a gap out of a set',
    table: 'approved_set',
    sql: (place) =>
      `UPDATE approved_set SET content = replace(content, 'plate crushes', '') WHERE ${project(place)}`,
    sentence: /content of set 1 does not have the hash/,
  },
  {
    what: 'an entry out of a set',
    table: 'set_entry',
    sql: (place) => `DELETE FROM set_entry WHERE item_id = '${place.ids.beam}'`,
    sentence: /entries of set 1 are not those of event/,
    shows: 'approved_set',
  },
  {
    what: 'who issued a set',
    table: 'approved_set',
    sql: (place) =>
      `UPDATE approved_set SET issued_by_id = '${place.scene.secondEngineer.personId}' WHERE ${project(place)}`,
    sentence: /issuedById is not what event/,
  },
  {
    what: 'a question',
    table: 'question',
    sql: (place) => `UPDATE question SET text = 'Two jacks?' WHERE ${project(place)}`,
    sentence: /text is not what event/,
  },
  {
    what: 'an event’s payload',
    table: 'event',
    sql: (place) =>
      `UPDATE event SET payload = replace(payload, 'returned', 'approved') WHERE ${eventOf(place, 'version.marked')}
       AND payload LIKE '%returned%'`,
    sentence: /does not have the hash/,
  },
  {
    what: 'an event’s actor',
    table: 'event',
    sql: (place) => `UPDATE event SET actor_name = 'Somebody' WHERE ${eventOf(place, 'set.issued')}`,
    sentence: /does not have the hash/,
  },
  {
    what: 'an event’s time',
    table: 'event',
    sql: (place) => `UPDATE event SET at = at - interval '1 hour' WHERE ${eventOf(place, 'set.issued')}`,
    sentence: /does not have the hash/,
  },
  {
    what: 'an event out of the middle',
    table: 'event',
    sql: (place) => `DELETE FROM event WHERE ${project(place)} AND seq = 3`,
    sentence: /^Event 3 is missing/,
  },
  {
    what: 'the first event',
    table: 'event',
    sql: (place) => `DELETE FROM event WHERE ${project(place)} AND seq = 1`,
    sentence: /^Event 1 is missing/,
  },
  {
    what: 'the end of the log',
    table: 'event',
    sql: (place) => `DELETE FROM event WHERE ${eventOf(place, 'set.issued')}`,
    sentence: /No event recorded it/,
    shows: 'approved_set',
  },
];
