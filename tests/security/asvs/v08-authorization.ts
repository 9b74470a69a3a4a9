import { row, tested, written, type Requirement } from './requirement.ts';

export const v08: readonly Requirement[] = [
  row(
    '8.1.1',
    1,
    'Who may do what is written down',
    tested(['people/route-matrix.http.test.ts', 'has a line for every route, and a route for every line']),
  ),
  row(
    '8.1.2',
    2,
    'Who may see and change which field is written down',
    written(
      'README.md',
      'The owner is shown',
      'what the owner and holders of shared links see of a record, under “Security”',
    ),
  ),
  row(
    '8.2.1',
    1,
    'Functions are for whom the table names',
    tested(['people/route-matrix.http.test.ts', 'lets in whom it names and nobody else, on every route']),
  ),
  row(
    '8.2.2',
    1,
    'Objects of others are not there',
    tested(
      [
        'security/foreign-ids.http.test.ts',
        'is not there: nothing shown, nothing written, for every route and role',
      ],
      ['security/foreign-ids.http.test.ts', 'named inside a form or a body is not there either'],
    ),
  ),
  row(
    '8.2.3',
    2,
    'Fields are for whom they are meant',
    tested(
      ['api/operations.http.test.ts', 'tells the owner of the sets and of nothing that is not the owner’s'],
      ['attachments/serving.http.test.ts', 'never reach the owner, not by the download either'],
      ['security/hostile-requests.http.test.ts', 'a field that the form does not have changes nothing'],
    ),
  ),
  row(
    '8.3.1',
    1,
    'Decided by the server',
    tested(
      ['people/route-matrix.http.test.ts', 'lets in whom it names and nobody else, on every route'],
      ['record/versions/save.db.test.ts', 'a role that was claimed but is not held does not count'],
    ),
  ),
  row(
    '8.4.1',
    2,
    'One project never touches another',
    tested(
      [
        'security/foreign-ids.http.test.ts',
        'is not there: nothing shown, nothing written, for every route and role',
      ],
      ['attachments/search.http.test.ts', 'of another project are not found'],
    ),
  ),
];
