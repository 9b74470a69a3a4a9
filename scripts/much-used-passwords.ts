import { createReadStream } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { MUCH_USED_PASSWORDS, recordOf } from '../src/people/accounts/much-used-passwords.ts';
import { LEAST_PASSWORD_LENGTH } from '../src/people/accounts/schemas.ts';

/** Makes the file of hashes that new passwords are held against, from a list of breached passwords, one a line. */
const [list] = process.argv.slice(2);
if (list === undefined) {
  console.error('usage: node --import tsx scripts/much-used-passwords.ts LIST');
  process.exit(2);
}
const records = new Set<string>();
for await (const password of createInterface({ input: createReadStream(list, 'utf8') })) {
  if (password.length >= LEAST_PASSWORD_LENGTH) records.add(recordOf(password).toString('hex'));
}
await writeFile(MUCH_USED_PASSWORDS, Buffer.from([...records].sort().join(''), 'hex'));
console.log(`${records.size} passwords of ${LEAST_PASSWORD_LENGTH} characters or more`);
