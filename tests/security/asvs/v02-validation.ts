import { row, tested, written, type Requirement } from './requirement.ts';

export const v02: readonly Requirement[] = [
  row(
    '2.1.1',
    1,
    'Rules for each input are written down',
    tested(
      ['api/document.http.test.ts', 'is valid OpenAPI 3.1'],
      ['scripts/calc.unit.test.ts', 'gives the JSON Schema of its input'],
    ),
  ),
  row(
    '2.1.2',
    2,
    'What has to fit together is written down',
    written(
      'DEVELOPERS.md',
      'Adding a kind of item',
      'schemas and refusals of the engine say it of each kind, with the clause',
    ),
  ),
  row(
    '2.1.3',
    2,
    'Limits, of a person and of all, are written down',
    written(
      'README.md',
      'RATE_LIMIT',
      'limits of requests and files are in the table of settings; sign-in’s under “Security”',
    ),
  ),
  row(
    '2.2.1',
    1,
    'Input is held against what is expected',
    tested(
      ['api/fuzz.http.test.ts', 'never breaks an operation, and is refused as the description says'],
      ['engineering/statics/refusals.unit.test.ts', 'what overflows, in the beam or in a reaction alone'],
    ),
  ),
  row(
    '2.2.2',
    1,
    'Judged by the server, never by the page alone',
    tested(
      ['web/length-reading.unit.test.ts', 'never says another figure than the server'],
      ['web/components.browser.test.ts', 'is whole without script: fields, traces and drawings are there'],
    ),
  ),
  row(
    '2.2.3',
    2,
    'Combinations are held against each other',
    tested([
      'engineering/statics/refusals.unit.test.ts',
      'names the support that is off the beam, that is no number, or that stands on another',
    ]),
  ),
  row(
    '2.3.1',
    1,
    'Steps in their order, none left out',
    tested(
      ['record/marks/marks.db.test.ts', 'before it was handed over: refused'],
      ['record/sets/rules.unit.test.ts', 'exactly what was shown enters'],
    ),
  ),
  row(
    '2.3.2',
    2,
    'Limits of the business are kept',
    tested(
      ['attachments/hostile-uploads.http.test.ts', 'refuses more than twenty files at once'],
      ['people/attempts.http.test.ts', 'lets no more through when many come at once, from several processes'],
    ),
  ),
  row(
    '2.3.3',
    2,
    'One transaction: all or nothing',
    tested(
      ['record/events/append.db.test.ts', 'what fails leaves neither change nor event'],
      ['notify/outbox.db.test.ts', 'has nothing of what did not happen'],
    ),
  ),
  row(
    '2.3.4',
    2,
    'Nothing is given out twice',
    tested(
      ['record/marks/marks.db.test.ts', 'two engineers on one version: one word counts, the other is told'],
      ['people/access-letters.http.test.ts', 'of two who use one link at once, one succeeds'],
    ),
  ),
  row(
    '2.4.1',
    2,
    'Too many calls are slowed',
    tested(
      [
        'api/limits.http.test.ts',
        'refuses with problem details and the time to wait, one token and not the next',
      ],
      ['people/accounts.http.test.ts', 'slows guessing at one account'],
      [
        'people/access-letters.http.test.ts',
        'nobody fills a mailbox, and a letter tried again has a link that works',
      ],
    ),
  ),
];
