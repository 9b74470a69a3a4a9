import { absent, row, tested, type Requirement } from './requirement.ts';

const noJwt = absent(
  'Sessions and tokens of programs are looked up in the database; no token carries its own claims. The two signed values (whose a form is, stopping mail) name one person for one purpose.',
);

export const v09: readonly Requirement[] = [
  row(
    '9.1.1',
    1,
    'Signed values are checked before they are read',
    tested(
      [
        'people/kept-forms/kept-forms.http.test.ts',
        'signs whose it is, so that nobody can name somebody else',
      ],
      ['notify/choice.http.test.ts', 'can’t be made by somebody else'],
    ),
  ),
  row('9.1.2', 1, 'Only chosen algorithms', noJwt),
  row('9.1.3', 1, 'Keys come from the service alone', noJwt),
  row('9.2.1', 1, 'Only within its time', noJwt),
  row(
    '9.2.2',
    2,
    'Only for its purpose',
    tested([
      'api/tokens.http.test.ts',
      'says the token alone: a cookie is not looked at, and a token opens no page',
    ]),
  ),
  row('9.2.3', 2, 'Only for this service', noJwt),
  row('9.2.4', 2, 'Only for one audience', noJwt),
];
