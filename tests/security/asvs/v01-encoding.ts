import { absent, row, tested, type Requirement } from './requirement.ts';

const noSuchSystem = (what: string) => absent(`The service talks to no ${what}.`);

export const v01: readonly Requirement[] = [
  row(
    '1.1.1',
    2,
    'Decode input once, before it is judged',
    tested(
      ['web/forms/forms.unit.test.ts', 'drops what is no text of a form'],
      ['api/fuzz.http.test.ts', 'never breaks an operation, and is refused as the description says'],
    ),
  ),
  row(
    '1.1.2',
    2,
    'Escape last, or leave it to the interpreter',
    tested([
      'web/templates.unit.test.ts',
      'none switches escaping off, but for drawings made by our own builders',
    ]),
  ),
  row(
    '1.2.1',
    1,
    'Escape for the place: element, attribute, header',
    tested(
      ['attachments/hostile-uploads.http.test.ts', 'shows a name with markup in it as words'],
      ['report/drawings/drawings.unit.test.ts', 'keeps hostile words as words'],
    ),
  ),
  row(
    '1.2.2',
    1,
    'Encode what goes into addresses; only safe schemes',
    tested(
      ['attachments/hostile-uploads.http.test.ts', 'gives 404 for ids that are paths'],
      ['api/webhook-addresses.unit.test.ts', 'is taken where it leads out'],
    ),
  ),
  row(
    '1.2.3',
    1,
    'Escape what goes into scripts and JSON',
    tested(['web/templates.unit.test.ts', 'none carries inline style or script']),
  ),
  row(
    '1.2.4',
    1,
    'Queries with parameters',
    tested(
      ['attachments/search.http.test.ts', 'is found by the word inside of what looks like an operator'],
      ['security/own-code.unit.test.ts', 'puts no text into a query but through parameters'],
    ),
  ),
  row(
    '1.2.5',
    1,
    'No shell is given anybody’s words',
    tested(['security/own-code.unit.test.ts', 'starts no shell']),
  ),
  row('1.2.6', 2, 'LDAP injection', noSuchSystem('directory')),
  row('1.2.7', 2, 'XPath injection', absent('Nothing is asked by XPath.')),
  row(
    '1.2.8',
    2,
    'LaTeX injection',
    absent('Papers are drawn from data by a PDF library; there is no LaTeX.'),
  ),
  row(
    '1.2.9',
    2,
    'Escape what goes into a regular expression',
    tested(['security/own-code.unit.test.ts', 'makes no regular expression of anybody’s words']),
  ),
  row('1.3.1', 1, 'Clean HTML that people write', absent('Nobody writes HTML: every word is text.')),
  row('1.3.2', 1, 'No eval', tested(['security/own-code.unit.test.ts', 'runs no text as code'])),
  row(
    '1.3.3',
    2,
    'Bound and clean what goes to a dangerous place',
    tested(
      ['attachments/hostile-uploads.http.test.ts', 'takes no null byte in a caption and no foreign way back'],
      ['web/forms/forms.unit.test.ts', 'says at the box what could not be read'],
    ),
  ),
  row(
    '1.3.4',
    2,
    'SVG of people: no script in it',
    tested(['security/uploads.http.test.ts', 'takes no SVG, whatever it calls itself']),
  ),
  row(
    '1.3.5',
    2,
    'No Markdown, CSS or templates of people',
    absent('Words of people are shown as words; no markup language is read.'),
  ),
  row(
    '1.3.6',
    2,
    'Requests that the server makes for people go only where they may',
    tested(
      ['api/webhook-addresses.unit.test.ts', 'never reaches this machine by a name that leads here'],
      [
        'api/webhook-addresses.unit.test.ts',
        'asks for the name once and goes to what was judged, under the name',
      ],
    ),
  ),
  row(
    '1.3.7',
    2,
    'No template is built of anybody’s words',
    tested(['security/hostile-words.http.test.ts', 'are words on every page that shows them']),
  ),
  row('1.3.8', 2, 'JNDI injection', absent('Not a Java program.')),
  row('1.3.9', 2, 'Memcache injection', noSuchSystem('memcache')),
  row(
    '1.3.10',
    2,
    'Format strings',
    absent('No format string is taken from anybody; numbers are written by functions of our own.'),
  ),
  row(
    '1.3.11',
    2,
    'Mail: no header, no recipient by injection',
    tested(['notify/sending.db.test.ts', 'can’t add a header, a recipient or markup']),
  ),
  row(
    '1.4.1',
    2,
    'Memory-safe strings and pointers',
    absent(
      'TypeScript; the native libraries (PNG, JPEG, PDF, HEIC) run on bytes whose size was judged first.',
    ),
  ),
  row(
    '1.4.2',
    2,
    'Ranges against overflow',
    tested(
      ['api/fuzz.http.test.ts', 'never breaks an operation, and is refused as the description says'],
      ['engineering/statics/refusals.unit.test.ts', 'what overflows, in the beam or in a reaction alone'],
    ),
  ),
  row(
    '1.4.3',
    2,
    'Release what was taken',
    tested([
      'attachments/constant-memory.http.test.ts',
      'raises the resident memory of the service by less than 64 MB, coming in and going out',
    ]),
  ),
  row(
    '1.5.1',
    1,
    'XML parsers without external entities',
    tested(['security/own-code.unit.test.ts', 'reads no XML']),
  ),
  row(
    '1.5.2',
    2,
    'Only data is deserialized',
    tested(
      ['security/hostile-requests.http.test.ts', 'a key that would reach a prototype is refused or dropped'],
      ['report/package/package.db.test.ts', 'a size other than the manifest’s, and a file that is no ZIP'],
    ),
  ),
];
