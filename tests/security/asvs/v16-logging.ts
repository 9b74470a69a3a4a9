import { operator, row, tested, written, type Requirement } from './requirement.ts';

const logs = 'security/logs.http.test.ts';
const inventory = (note: string) => written('README.md', 'What is logged', note);

export const v16: readonly Requirement[] = [
  row(
    '16.1.1',
    2,
    'What is logged, where, for whom',
    inventory('the log of the service, and the log of each project'),
  ),
  row(
    '16.2.1',
    2,
    'When, where, who, what',
    tested([logs, 'say who, what and when of each sign-in, good and bad']),
  ),
  row('16.2.2', 2, 'Times in UTC', tested([logs, 'say who, what and when of each sign-in, good and bad'])),
  row('16.2.3', 2, 'Logs go where it is written', inventory('standard output, nothing else')),
  row('16.2.4', 2, 'A common format', tested([logs, 'are one JSON object a line, whatever was sent'])),
  row(
    '16.2.5',
    2,
    'Nothing secret in them',
    tested([logs, 'hold no password, token, cookie or link that lets somebody in']),
  ),
  row(
    '16.3.1',
    2,
    'Sign-ins, good and bad',
    tested([logs, 'say who, what and when of each sign-in, good and bad']),
  ),
  row(
    '16.3.2',
    2,
    'What was refused by role',
    tested(
      ['record/scenarios/shut-out.http.test.ts', 'is refused, and the answer tells nothing of the record'],
      ['record/scenarios/shut-out.http.test.ts', 'is not logged where the table lets the person in'],
    ),
  ),
  row('16.3.3', 2, 'Attempts to get around', tested([logs, 'say of a forged request and of too many'])),
  row(
    '16.3.4',
    2,
    'Unexpected errors',
    tested([
      'security/hostile-requests.http.test.ts',
      'an unexpected error says a number and nothing of the inside',
    ]),
  ),
  row('16.4.1', 2, 'No line can be made up', tested([logs, 'are one JSON object a line, whatever was sent'])),
  row(
    '16.4.2',
    2,
    'Logs can’t be changed',
    operator(
      'The log of the service is on standard output; who keeps it guards it. The log of each project is append-only and hash-chained.',
    ),
  ),
  row('16.4.3', 2, 'Logs go to another machine', operator('Standard output is what collectors read.')),
  row(
    '16.5.1',
    2,
    'Errors say nothing of the inside',
    tested([
      'security/hostile-requests.http.test.ts',
      'an unexpected error says a number and nothing of the inside',
    ]),
  ),
  row(
    '16.5.2',
    2,
    'Others may fail',
    tested(
      [
        'attachments/storage/object-store.unit.test.ts',
        'says that the store does not answer, and gives its parts up',
      ],
      ['notify/sending.db.test.ts', 'waits where nobody listens'],
    ),
  ),
  row(
    '16.5.3',
    2,
    'Failing is never letting in',
    tested(
      ['record/events/append.db.test.ts', 'what fails leaves neither change nor event'],
      [
        'people/attempts.http.test.ts',
        'says the same of a known and an unknown address, and refuses even the right password meanwhile',
      ],
    ),
  ),
];
