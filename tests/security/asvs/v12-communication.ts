import { absent, operator, row, tested, type Requirement } from './requirement.ts';

const proxy = operator(
  'TLS ends at the proxy in front, as the README asks; the service listens on the loopback address unless told otherwise.',
);

export const v12: readonly Requirement[] = [
  row('12.1.1', 1, 'TLS 1.2 and 1.3 alone', proxy),
  row('12.1.2', 2, 'Good cipher suites', proxy),
  row('12.1.3', 2, 'Client certificates', absent('None are used.')),
  row('12.2.1', 1, 'Clients come over TLS alone', proxy),
  row('12.2.2', 1, 'Public certificates', proxy),
  row(
    '12.3.1',
    2,
    'Encrypted to every other system',
    tested([
      'security/plain-connections.unit.test.ts',
      'are refused in production where they are plain: %s=%s',
    ]),
  ),
  row(
    '12.3.2',
    2,
    'Certificates of others are checked',
    tested(['security/own-code.unit.test.ts', 'never waives the check of a certificate']),
  ),
  row(
    '12.3.3',
    2,
    'Encrypted between own services',
    absent('One process beside its database; no services of its own over HTTP.'),
  ),
  row('12.3.4', 2, 'Trusted certificates between own services', absent('As 12.3.3.')),
];
