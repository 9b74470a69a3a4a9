import { absent, open, row, tested, written, type Requirement } from './requirement.ts';

const own = 'security/own-code.unit.test.ts';
const inventory = (note: string) => written('DEVELOPERS.md', '## Keys and algorithms', note);

export const v11: readonly Requirement[] = [
  row(
    '11.1.1',
    2,
    'A policy for keys',
    inventory('which keys there are, who holds them, how each is replaced'),
  ),
  row(
    '11.1.2',
    2,
    'An inventory of keys and algorithms',
    inventory('each algorithm with its use and its file'),
  ),
  row(
    '11.2.1',
    2,
    'Proven implementations',
    tested([own, 'uses no cryptography but the platform’s and argon2']),
  ),
  row(
    '11.2.2',
    2,
    'Algorithms and keys can be changed',
    open(
      'Passwords carry their parameters and can be raised; the form key can be replaced. The hash of the record (SHA-256) is fixed in its format: another one means a new format of the log.',
    ),
  ),
  row(
    '11.2.3',
    2,
    '128 bits or more',
    tested([own, 'makes every secret of 192 bits or more, from the random source']),
  ),
  row(
    '11.3.1',
    1,
    'No weak modes or paddings',
    tested([own, 'uses no cryptography but the platform’s and argon2']),
  ),
  row(
    '11.3.2',
    1,
    'Approved ciphers alone',
    tested([own, 'uses no cryptography but the platform’s and argon2']),
  ),
  row(
    '11.3.3',
    2,
    'What is encrypted can’t be changed unseen',
    tested([
      'security/sealed.unit.test.ts',
      'opens under the secret of its installation alone, and not when it was changed',
    ]),
  ),
  row(
    '11.4.1',
    1,
    'Approved hashes alone',
    tested([own, 'uses no cryptography but the platform’s and argon2']),
  ),
  row(
    '11.4.2',
    2,
    'Passwords by a slow function',
    tested(['security/passwords.http.test.ts', 'is kept by argon2id with 46 MiB']),
  ),
  row(
    '11.4.3',
    2,
    'Hashes of 256 bits where they prove something',
    tested(
      ['record/verify/verify.db.test.ts', 'holds, and tells its counts and head'],
      [own, 'uses no cryptography but the platform’s and argon2'],
    ),
  ),
  row(
    '11.4.4',
    2,
    'Keys from passwords by a slow function',
    absent('No key is made from a password: keys are random, or the secret of the installation.'),
  ),
  row(
    '11.5.1',
    2,
    'Random where it must not be guessed',
    tested([own, 'makes every secret of 192 bits or more, from the random source']),
  ),
  row(
    '11.6.1',
    2,
    'Public-key methods',
    absent('No key pairs and no signatures of our own; TLS is the proxy’s and the platform’s.'),
  ),
];
