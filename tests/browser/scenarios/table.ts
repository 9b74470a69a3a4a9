/** The acceptance scenarios of the job, each with the tests in which people drive it in a browser. */
export interface Scenario {
  readonly number: number;
  readonly words: string;
  readonly drivenBy: readonly (readonly [file: string, test: string])[];
}

const people = 'tests/record/scenarios/people.browser.test.ts';
const held = 'tests/record/scenarios/held-work.browser.test.ts';
const onSite = 'tests/inspection/offline/on-site.browser.test.ts';
const visits = 'tests/inspection/paper.browser.test.ts';
const deliveries = 'tests/site/deliveries.browser.test.ts';

const one = (number: number, words: string, ...drivenBy: Scenario['drivenBy']): Scenario => ({
  number,
  words,
  drivenBy,
});

export const scenarios: readonly Scenario[] = [
  one(1, 'a version saved before the mark', [
    people,
    'scenario 1: a version saved meanwhile: nothing is marked, and both are before the engineer',
  ]),
  one(2, 'two people at one row', [
    people,
    'scenario 2: two people at one row: the second sees the first’s and keeps what was typed',
  ]),
  one(3, 'the span changes after approval', [
    people,
    'scenario 3: the survey’s span changes as it is typed on site; what rests on it is out of date',
  ]),
  one(4, 'a partial set leaves the footing open', [
    held,
    'scenario 4: a footing is returned, the rest approved: the set says what it leaves open, the pour is held',
  ]),
  one(5, 'weaker plies are delivered', [
    deliveries,
    'scenario 5: 1.9E plies for 2.0E: held, the beam blocked, the engineer told',
  ]),
  one(6, 'the substitution is marked and issued', [
    deliveries,
    'scenario 6: tried against the design, proposed, marked, a new set issued: the same delivery matches',
  ]),
  one(
    7,
    'a day of findings without a network',
    [
      onSite,
      'scenario 7: opens the kept visit without a network, records 14 findings with 9 photos, and says what waits',
    ],
    [
      onSite,
      'sends all of it once, in order, with its times, over a line that loses an answer and a service that restarts',
    ],
  ),
  one(8, 'a set is issued during a visit offline', [
    onSite,
    'a set issued meanwhile: findings stay with the old one, and what differs is shown',
  ]),
  one(
    9,
    'a photo’s sending breaks off and goes on',
    [
      onSite,
      'sends all of it once, in order, with its times, over a line that loses an answer and a service that restarts',
    ],
    [
      'tests/attachments/uploading.browser.test.ts',
      'goes on after broken connections, and sends only the failed one again',
    ],
  ),
  one(10, 'a stored photo is damaged', [
    'tests/browser/scenarios/damaged-photo.browser.test.ts',
    'scenario 10: the engineer opens a photo whose bytes were damaged: a hash failure, never the photo',
  ]),
  one(11, 'the owner types the marking address', [
    people,
    'scenario 11: an owner at the engineer’s own page',
  ]),
  one(12, 'a stranger guesses a drawing’s link', [
    people,
    'scenario 12: a stranger at the link of a drawing, and at one of none',
  ]),
  one(13, 'an old tab after access ended', [
    people,
    'scenario 13: an old tab of somebody who was taken out saves nothing',
  ]),
  one(14, 'three hangers fail', [
    visits,
    'scenario 14: three corrections, the rest passed: closes as correction needed, cover stays held',
  ]),
  one(15, 'the visit after the corrections', [
    visits,
    'scenario 15: the next visit has these three and what was disturbed, the rest folded away',
  ]),
  one(16, 'more jacks after the beam is in', [
    held,
    'scenario 16, gone on: jacks from two to three, and it is held again before the eyes of all three',
  ]),
  one(17, 'the wall comes out too early', [
    'tests/site/sequence/pages.browser.test.ts',
    'the contractor plans days, is told no, logs the wall as out all the same; the engineer sees the flag',
  ]),
  one(18, 'the mark’s button is pressed twice', [
    people,
    'scenario 18: a double tap on “Approve” is one mark',
  ]),
  one(19, 'an approval is taken back', [
    people,
    'scenario 19: an approval taken back stays to be seen, and the set that holds it is flagged',
  ]),
  one(
    20,
    'a superseded printed set is checked',
    [
      people,
      'scenario 20: the number on a printed set, typed in after the next one, says superseded and what changed',
    ],
    [
      people,
      'scenario 20: the disclaimer prints on both sets and on both lists, the superseded ones marked as such',
    ],
  ),
];
