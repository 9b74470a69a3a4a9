import { operator, row, tested, written, type Requirement } from './requirement.ts';

const requests = 'security/hostile-requests.http.test.ts';

export const v15: readonly Requirement[] = [
  row(
    '15.1.1',
    1,
    'How soon dependencies are mended is written down',
    written('DEVELOPERS.md', 'A known hole is closed within', 'times by severity'),
  ),
  row(
    '15.1.2',
    2,
    'A list of dependencies',
    tested(
      ['security/dependencies.unit.test.ts', 'has a line in the list, with why it is there'],
      ['security/dependencies.unit.test.ts', 'is pinned, and locked with its hash'],
    ),
  ),
  row(
    '15.1.3',
    2,
    'What costs much is named',
    written('README.md', 'What costs much', 'packages, PDFs, previews, calculations, with the limit of each'),
  ),
  row(
    '15.2.1',
    1,
    'Dependencies are mended in time',
    operator(
      'npm audit is to be run where a registry answers it; the one at hand when this was written answered 405, so that nothing is claimed here.',
    ),
  ),
  row(
    '15.2.2',
    2,
    'What costs much can’t stop the service',
    tested(
      [
        'attachments/heic.http.test.ts',
        'ends a decoder that takes more than it may, and the service goes on',
      ],
      ['attachments/pdf/reader.unit.test.ts', 'is given up at the limit of time, and of memory'],
      ['api/limits.http.test.ts', 'is a fifth for calculations'],
    ),
  ),
  row(
    '15.2.3',
    2,
    'Nothing in production that is not needed',
    tested(['security/production.http.test.ts', 'serves no page that is there for whoever builds pages']),
  ),
  row(
    '15.3.1',
    1,
    'Only the fields that are needed go out',
    tested(
      ['api/fuzz.http.test.ts', 'never breaks an operation, and is refused as the description says'],
      ['api/operations.http.test.ts', 'tells the owner of the sets and of nothing that is not the owner’s'],
    ),
  ),
  row(
    '15.3.2',
    2,
    'Calls out follow no redirect',
    tested(['api/webhook-addresses.unit.test.ts', 'follows no redirect']),
  ),
  row(
    '15.3.3',
    2,
    'No field that was not meant',
    tested([requests, 'a field that the form does not have changes nothing']),
  ),
  row(
    '15.3.4',
    2,
    'The sender’s address comes from trusted proxies',
    tested(['security/headers.http.test.ts', 'an address made up by the sender is not believed']),
  ),
  row(
    '15.3.5',
    2,
    'Types are checked, comparisons strict',
    tested(['security/own-code.unit.test.ts', 'compares strictly']),
  ),
  row(
    '15.3.6',
    2,
    'No prototype is reached',
    tested([requests, 'a key that would reach a prototype is refused or dropped']),
  ),
  row('15.3.7', 2, 'A name sent twice', tested([requests, 'a name sent twice breaks nothing'])),
];
