import { absent, row, tested, written, type Requirement } from './requirement.ts';

const passwords = 'security/passwords.http.test.ts';
const own = 'security/own-code.unit.test.ts';
const codes = 'people/second-factor/codes.http.test.ts';
const codeUnits = 'people/second-factor/one-time-code.unit.test.ts';
const nothingSent = absent('No code is sent to anybody: the person’s own program makes it.');
const noProvider = absent('Nobody signs in through an identity provider.');

export const v06: readonly Requirement[] = [
  row(
    '6.1.1',
    1,
    'How guessing is slowed is written down',
    written(
      'README.md',
      'After the fifth wrong password',
      'counts, pauses, and why nobody is locked out for good, under “Security”',
    ),
  ),
  row(
    '6.1.2',
    2,
    'Words of this place that no password may be made of are listed',
    written('src/people/accounts/easy-passwords.ts', 'wordsOfThisPlace', 'the list itself'),
  ),
  row(
    '6.1.3',
    2,
    'Every way in is written down',
    written('README.md', 'Two ways lead in', 'under “Security”'),
  ),
  row(
    '6.2.1',
    1,
    'Eight characters or more',
    tested([
      'people/accounts.http.test.ts',
      'refuses a short password and a bad address at their fields, and gives back what was typed',
    ]),
  ),
  row(
    '6.2.2',
    1,
    'People can change their password',
    tested([
      'people/accounts.http.test.ts',
      'changes the password, ends every other session and keeps this one',
    ]),
  ),
  row(
    '6.2.3',
    1,
    'The present one is asked for',
    tested([
      'people/accounts.http.test.ts',
      'changes the password, ends every other session and keeps this one',
    ]),
  ),
  row(
    '6.2.4',
    1,
    'The 3,000 most used are refused',
    tested(
      [
        'people/easy-passwords.unit.test.ts',
        'the list holds more than the 3,000 most used, each once and in order',
      ],
      [
        'security/passwords.http.test.ts',
        'that is easy is refused with the reason, at sign-up, change and reset',
      ],
    ),
  ),
  row(
    '6.2.5',
    1,
    'No rules of composition',
    tested([passwords, 'any characters will do, spaces and other scripts too']),
  ),
  row(
    '6.2.6',
    1,
    'Boxes hide what is typed',
    tested([passwords, 'boxes hide what is typed, and let a password manager and pasting do their work']),
  ),
  row(
    '6.2.7',
    1,
    'Pasting and password managers are let in',
    tested([passwords, 'boxes hide what is typed, and let a password manager and pasting do their work']),
  ),
  row(
    '6.2.8',
    1,
    'Taken as it was typed',
    tested([passwords, 'counts to the last character and the case of each']),
  ),
  row(
    '6.2.9',
    2,
    '64 characters are let in',
    tested([passwords, 'counts to the last character and the case of each']),
  ),
  row('6.2.10', 2, 'No change by the calendar', absent('A password never runs out.')),
  row(
    '6.2.11',
    2,
    'Words of this place are refused',
    tested([passwords, 'that is easy is refused with the reason, at sign-up, change and reset']),
  ),
  row(
    '6.2.12',
    2,
    'Breached passwords are refused',
    tested([
      'people/easy-passwords.unit.test.ts',
      'breached ones are refused that no rule would know, in large letters or small',
    ]),
  ),
  row(
    '6.3.1',
    1,
    'Guessing is slowed as written',
    tested(
      [
        'people/attempts.http.test.ts',
        'pauses after the fifth for 30 s, and twice as long after each further one, up to 15 minutes',
      ],
      ['web/several-processes.http.test.ts', 'guessing a password is counted over both'],
    ),
  ),
  row(
    '6.3.2',
    1,
    'No accounts that are there from the start',
    tested([passwords, 'nobody is there in a new installation without the demo']),
  ),
  row(
    '6.3.3',
    2,
    'A second factor (with ONE_TIME_CODES=required; otherwise each person’s choice)',
    tested(
      [codes, 'asks the code on a second page, and begins no session before it is right'],
      [
        'people/second-factor/required.http.test.ts',
        'open nothing but the own account and what is anyone’s, on every route, before they are set up',
      ],
    ),
  ),
  row(
    '6.3.4',
    2,
    'No way in that is not written down',
    tested(
      ['people/route-matrix.http.test.ts', 'lets in whom it names and nobody else, on every route'],
      [
        'api/tokens.http.test.ts',
        'says the token alone: a cookie is not looked at, and a token opens no page',
      ],
    ),
  ),
  row(
    '6.4.1',
    1,
    'First secrets are random and short-lived',
    tested([
      'people/access-letters.http.test.ts',
      'a link is good for an hour, and a letter that comes too late is not sent',
    ]),
  ),
  row('6.4.2', 1, 'No secret questions', absent('None.')),
  row(
    '6.4.3',
    2,
    'A forgotten password is replaced safely',
    tested(
      [
        'people/access-letters.http.test.ts',
        'is replaced through the link of a letter; every session ends, and the link is used up',
      ],
      [
        'people/access-letters.http.test.ts',
        'of two links the used one ends the other, and no secret lies in the database',
      ],
    ),
  ),
  row(
    '6.4.4',
    2,
    'A lost factor',
    tested(
      [codes, 'takes each recovery code once, and tells it by mail'],
      [codes, 'ends what was begun when the password changes, and a new password by mail leaves codes on'],
      [
        'people/operator.http.test.ts',
        'switches codes off for somebody who has lost them, and tells it by mail',
      ],
    ),
  ),
  row(
    '6.5.1',
    2,
    'Codes once',
    tested(
      [codes, 'takes a code in its own 30 seconds, not one step early or late, and each once'],
      [codes, 'of two who come with one code at once lets one in'],
      [codes, 'takes each recovery code once, and tells it by mail'],
    ),
  ),
  row(
    '6.5.2',
    2,
    'Codes are hashed',
    tested(
      [codes, 'keeps the secret sealed and the recovery codes as hashes, and logs neither'],
      [codeUnits, 'are ten, each of 140 bits in seven groups of four'],
    ),
  ),
  row(
    '6.5.3',
    2,
    'Codes are random',
    tested([own, 'makes every secret of 192 bits or more, from the random source']),
  ),
  row(
    '6.5.4',
    2,
    'Codes are long enough',
    tested([codeUnits, 'are ten, each of 140 bits in seven groups of four']),
  ),
  row(
    '6.5.5',
    2,
    'Codes run out',
    tested(
      [codeUnits, 'count in their own 30 seconds, from the first to the last, and in no other'],
      [codes, 'takes a code in its own 30 seconds, not one step early or late, and each once'],
    ),
  ),
  row('6.6.1', 2, 'Codes by phone', nothingSent),
  row('6.6.2', 2, 'Codes are bound to their request', nothingSent),
  row(
    '6.6.3',
    2,
    'Codes can’t be guessed',
    tested([
      codes,
      'slows guessing at codes for the account, whatever the browser, and the right password takes nothing back',
    ]),
  ),
  row('6.8.1', 2, 'Providers apart', noProvider),
  row('6.8.2', 2, 'Assertions are signed', noProvider),
  row('6.8.3', 2, 'Assertions once', noProvider),
  row('6.8.4', 2, 'Strength told by the provider', noProvider),
];
