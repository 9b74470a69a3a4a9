import { open, operator, row, tested, written, type Requirement } from './requirement.ts';

const requests = 'security/hostile-requests.http.test.ts';

export const v13: readonly Requirement[] = [
  row(
    '13.1.1',
    2,
    'Whom the service talks to is written down',
    written('README.md', 'It talks to its database', 'under “Security”'),
  ),
  row(
    '13.2.1',
    2,
    'Backends are asked for proof, by short-lived credentials',
    open(
      'Database, mail and file store are reached by passwords or keys of the settings, which last until they are changed.',
    ),
  ),
  row(
    '13.2.2',
    2,
    'With no more rights than needed',
    tested(
      [
        'database/serving-role.db.test.ts',
        'can’t change or remove what is only added to, nor switch off what guards it',
      ],
      ['database/serving-role.db.test.ts', 'can neither make nor alter nor drop, nor let itself do more'],
    ),
  ),
  row(
    '13.2.3',
    2,
    'No default passwords',
    tested([
      'database/embedded.db.test.ts',
      'the password is random, needed, and readable by its owner alone; only loopback is served',
    ]),
  ),
  row(
    '13.2.4',
    2,
    'Outside systems by an allow-list',
    tested(
      ['api/webhook-addresses.unit.test.ts', 'never reaches this machine by a name that leads here'],
      ['security/own-code.unit.test.ts', 'opens connections in the named places alone'],
    ),
  ),
  row(
    '13.2.5',
    2,
    'What the server may load or call is listed',
    tested(['security/own-code.unit.test.ts', 'opens connections in the named places alone']),
  ),
  row(
    '13.3.1',
    2,
    'Secrets in a vault, none in the code',
    operator(
      'Secrets come from the environment, which a vault can fill; the one that is made lies in DATA_DIR, readable by its owner alone. None is in the code.',
    ),
  ),
  row(
    '13.3.2',
    2,
    'Secrets for whom they are needed',
    tested([
      'database/embedded.db.test.ts',
      'the password is random, needed, and readable by its owner alone; only loopback is served',
    ]),
  ),
  row(
    '13.4.1',
    1,
    'No source control is served',
    tested([requests, 'no path leads out of the folder of assets']),
  ),
  row(
    '13.4.2',
    2,
    'No debugging in production',
    tested([requests, 'an unexpected error says a number and nothing of the inside']),
  ),
  row('13.4.3', 2, 'No listings of folders', tested([requests, 'no path leads out of the folder of assets'])),
  row('13.4.4', 2, 'No TRACE', tested([requests, 'TRACE, CONNECT and made-up methods are not served'])),
  row(
    '13.4.5',
    2,
    'Descriptions and probes are shown on purpose only',
    tested([requests, 'what is open to everybody is this list']),
  ),
];
