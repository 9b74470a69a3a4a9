import { absent, row, tested, written, type Requirement } from './requirement.ts';

const sessions = 'security/sessions.http.test.ts';
const ownSessions = 'people/own-sessions.http.test.ts';
const codes = 'people/second-factor/codes.http.test.ts';
const keeping = 'people/second-factor/keeping-codes.http.test.ts';
const noFederation = absent(
  'Nobody signs in through somebody else; there is one service and its own sessions.',
);

export const v07: readonly Requirement[] = [
  row(
    '7.1.1',
    2,
    'How long a session lasts is written down',
    written('README.md', 'A session ends after 7 days without use', 'with the reason, under “Security”'),
  ),
  row(
    '7.1.2',
    2,
    'How many sessions at once is written down',
    written('README.md', 'as many sessions at once', 'a phone on site, a tablet and an office'),
  ),
  row('7.1.3', 2, 'Federation is written down', noFederation),
  row(
    '7.2.1',
    1,
    'Sessions are checked by the server',
    tested([sessions, 'is looked up in the database on each request']),
  ),
  row(
    '7.2.2',
    1,
    'Tokens are made for each session',
    tested([
      'people/accounts.http.test.ts',
      'keeps only a hash of the session id, and a fresh one for each sign-in',
    ]),
  ),
  row(
    '7.2.3',
    1,
    'Random, 128 bits or more',
    tested([sessions, 'has an id of 200 bits from the random source']),
  ),
  row(
    '7.2.4',
    1,
    'A fresh one at each sign-in; the old one ends',
    tested(
      [sessions, 'an id that was planted before the sign-in is worth nothing after it'],
      [sessions, 'a second sign-in ends the session that was in the browser'],
    ),
  ),
  row('7.3.1', 2, 'Ends after idling', tested([sessions, 'ends after seven days without use'])),
  row(
    '7.3.2',
    2,
    'Ends for good, however busy',
    tested(['people/accounts.http.test.ts', 'ends a session of thirty days, however busy']),
  ),
  row(
    '7.4.1',
    1,
    'Signing out ends it at the server',
    tested([sessions, 'signing out ends it for whoever kept the cookie']),
  ),
  row(
    '7.4.2',
    1,
    'A closed account has no sessions',
    tested([sessions, 'a closed account is out at the next request']),
  ),
  row(
    '7.4.3',
    2,
    'A new password ends the others',
    tested(
      ['people/accounts.http.test.ts', 'changes the password, ends every other session and keeps this one'],
      [
        'people/access-letters.http.test.ts',
        'is replaced through the link of a letter; every session ends, and the link is used up',
      ],
    ),
  ),
  row(
    '7.4.4',
    2,
    'Signing out is on every page',
    tested(['web/parts.unit.test.ts', 'offers signing in to nobody, signing out by POST to somebody']),
  ),
  row(
    '7.4.5',
    2,
    'Whoever runs it can end sessions',
    tested(['people/operator.http.test.ts', 'ends the sessions of one account, and of all']),
  ),
  row(
    '7.5.1',
    2,
    'The password again before what guards an account changes',
    tested(
      [codes, 'asks the password first, and lets nobody begin over codes that are on'],
      [keeping, 'makes ten new recovery codes for the password; those before are worth nothing'],
      [keeping, 'switches off for the password; nothing is asked any more, and the mail says so'],
      ['people/accounts.http.test.ts', 'changes the password, ends every other session and keeps this one'],
    ),
  ),
  row(
    '7.5.2',
    2,
    'See and end one’s own sessions',
    tested(
      [ownSessions, 'are listed with when they began, when they were last seen and in what, this one marked'],
      [ownSessions, 'end one by one, and all but this one'],
      [ownSessions, 'end only for the present password, and for a choice'],
    ),
  ),
  row('7.6.1', 2, 'Sessions of a federation', noFederation),
  row(
    '7.6.2',
    2,
    'A session begins by an act',
    tested([sessions, 'begins by a form sent with its token alone']),
  ),
];
