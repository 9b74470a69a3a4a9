import { open, row, tested, written, type Requirement } from './requirement.ts';

const levels = (note: string) => written('README.md', 'What is kept, and how it is guarded', note);

export const v14: readonly Requirement[] = [
  row(
    '14.1.1',
    2,
    'What is sensitive is named',
    levels('three levels: what lets somebody in, what is personal, what is the record'),
  ),
  row('14.1.2', 2, 'How each level is guarded is written down', levels('beside each level')),
  row(
    '14.2.1',
    1,
    'No secrets in addresses',
    open(
      'Sessions and tokens of programs never are. By design the address is the proof where nobody can sign in: links of letters (one use, one hour), invitations, the calendar, a family’s link. They are kept as hashes, masked in the log, and not told to other sites.',
    ),
  ),
  row(
    '14.2.2',
    2,
    'Nothing sensitive in caches of servers',
    tested(['security/headers.http.test.ts', 'what a person was shown is kept by no cache']),
  ),
  row(
    '14.2.3',
    2,
    'Nothing goes to others',
    tested([
      'browser/page-weight.browser.test.ts',
      'asks nobody else for anything, brings little script, and stays where it is',
    ]),
  ),
  row(
    '14.2.4',
    2,
    'Guarded as written',
    tested(
      ['security/logs.http.test.ts', 'hold no password, token, cookie or link that lets somebody in'],
      [
        'people/access-letters.http.test.ts',
        'of two links the used one ends the other, and no secret lies in the database',
      ],
    ),
  ),
  row(
    '14.3.1',
    1,
    'Nothing is left in the browser after signing out',
    tested(
      [
        'inspection/offline/on-site.browser.test.ts',
        'what waits stays on the phone of whoever signs out, unseen until the person signs in again',
      ],
      ['security/sessions.http.test.ts', 'signing out asks the browser to forget its cache'],
    ),
  ),
  row(
    '14.3.2',
    2,
    'Pages are kept by no cache',
    tested(['security/headers.http.test.ts', 'what a person was shown is kept by no cache']),
  ),
  row(
    '14.3.3',
    2,
    'Nothing sensitive in the browser’s storage',
    open(
      'Work without a network needs it: visits that an inspector takes along, and what was found on site, lie in IndexedDB under their person until they are sent; half-typed forms in sessionStorage. Both are the person’s own, and are taken away when sent or signed out.',
    ),
  ),
];
