import { absent, row, tested, type Requirement } from './requirement.ts';

const headers = 'security/headers.http.test.ts';
const forged = 'security/forged-requests.http.test.ts';

export const v03: readonly Requirement[] = [
  row(
    '3.2.1',
    1,
    'A file or an answer is not taken for a page',
    tested(
      [
        'attachments/hostile-uploads.http.test.ts',
        'serves a photo with a page behind it as what it was taken for: a download, never sniffed',
      ],
      ['security/uploads.http.test.ts', 'a PDF with script comes back as a download in a sandbox'],
    ),
  ),
  row(
    '3.2.2',
    1,
    'Text is shown as text by scripts, too',
    tested(['security/own-code.unit.test.ts', 'sets no markup from words in the browser']),
  ),
  row(
    '3.3.1',
    1,
    'Cookies are Secure, under a prefix',
    tested([headers, 'every cookie is Secure, HttpOnly, SameSite and bound to the host behind TLS']),
  ),
  row(
    '3.3.2',
    2,
    'SameSite by purpose',
    tested([headers, 'every cookie is Secure, HttpOnly, SameSite and bound to the host behind TLS']),
  ),
  row(
    '3.3.3',
    2,
    '__Host- for every cookie',
    tested([headers, 'every cookie is Secure, HttpOnly, SameSite and bound to the host behind TLS']),
  ),
  row(
    '3.3.4',
    2,
    'HttpOnly, and the value nowhere else',
    tested([headers, 'every cookie is Secure, HttpOnly, SameSite and bound to the host behind TLS']),
  ),
  row('3.4.1', 1, 'HSTS, a year, subdomains included', tested([headers, 'stand on every kind of answer'])),
  row('3.4.2', 1, 'CORS: a fixed origin or none', tested([headers, 'stand on every kind of answer'])),
  row(
    '3.4.3',
    2,
    'Content policy with object-src and base-uri none',
    tested([headers, 'stand on every kind of answer']),
  ),
  row('3.4.4', 2, 'nosniff everywhere', tested([headers, 'stand on every kind of answer'])),
  row('3.4.5', 2, 'Addresses are not told to others', tested([headers, 'stand on every kind of answer'])),
  row('3.4.6', 2, 'frame-ancestors everywhere', tested([headers, 'stand on every kind of answer'])),
  row(
    '3.5.1',
    1,
    'Forged requests are refused',
    tested(
      [
        forged,
        'are refused without a token, with another session’s, from another site and as another kind of body',
      ],
      [
        'people/accounts.http.test.ts',
        'are refused without the token, with a foreign one, and from a foreign origin',
      ],
    ),
  ),
  row(
    '3.5.2',
    1,
    'No reliance on preflight alone',
    tested([
      forged,
      'are refused without a token, with another session’s, from another site and as another kind of body',
    ]),
  ),
  row(
    '3.5.3',
    1,
    'GET changes nothing',
    tested(
      ['security/foreign-ids.http.test.ts', 'no page writes by being looked at'],
      [forged, 'a method in a field or header does not stand in for the real one'],
    ),
  ),
  row('3.5.4', 2, 'Each application under a host of its own', absent('One application, one host.')),
  row(
    '3.5.5',
    2,
    'postMessage from strangers is dropped',
    tested(['security/own-code.unit.test.ts', 'listens to no messages of other windows']),
  ),
  row('3.7.1', 2, 'Nothing outdated in the browser', absent('HTML, CSS and ES modules alone; no plug-ins.')),
  row(
    '3.7.2',
    2,
    'Redirects stay within the service',
    tested(['security/forged-requests.http.test.ts', 'no address of elsewhere is ever led to']),
  ),
];
