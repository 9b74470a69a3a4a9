import { lookup } from 'node:dns/promises';
import { request as plainRequest } from 'node:http';
import { request as secureRequest } from 'node:https';
import { isIP, type LookupFunction } from 'node:net';
import { addressProblem, isPublicAddress, type WaysOut } from './rules.ts';

/** It was not taken: a sentence for whoever owns the webhook. It says nothing about what lies behind the address. */
export class NotTaken extends Error {
  override readonly name = 'NotTaken';
}

export type Resolve = (host: string) => Promise<readonly string[]>;

const resolveAll: Resolve = async (host) => (await lookup(host, { all: true })).map(({ address }) => address);

export interface CallOut {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
  readonly ways: WaysOut;
  readonly resolve?: Resolve;
  readonly timeoutMs?: number;
}

const TIMEOUT_MS = 10_000;

/**
 * Posts JSON to an address outside. The name is resolved once, every address that it gives is judged, and the connection
 * goes to one of those that were judged: a name that answers otherwise the second time gains nothing. No redirect is
 * followed, and nothing of the answer but its status is read.
 *
 * @returns the status, whatever it is. @throws NotTaken where there was none.
 */
export async function callOut({
  url: text,
  headers,
  body,
  ways,
  resolve = resolveAll,
  timeoutMs = TIMEOUT_MS,
}: CallOut): Promise<number> {
  const problem = addressProblem(text, ways);
  if (problem !== null) throw new NotTaken(problem);
  const url = new URL(text);
  const host = url.hostname.replace(/^\[|\]$/g, '');
  const addresses = isIP(host) !== 0 ? [host] : await resolve(host).catch((): readonly string[] => []);
  const [pinned] = addresses;
  if (pinned === undefined) throw new NotTaken('Its name leads nowhere.');
  if (!ways.privateAddresses && !addresses.every(isPublicAddress)) {
    throw new NotTaken('Its name does not lead to the open network.');
  }
  const toPinned: LookupFunction = (_host, options, done) => {
    const family = isIP(pinned);
    if (options.all === true) done(null, [{ address: pinned, family }]);
    else done(null, pinned, family);
  };
  const open = url.protocol === 'https:' ? secureRequest : plainRequest;
  return new Promise<number>((resolved, rejected) => {
    const call = open(
      url,
      {
        method: 'POST',
        headers: { ...headers, 'content-length': String(Buffer.byteLength(body)) },
        lookup: toPinned,
        // A connection of its own: one kept from an earlier call would not have been judged.
        agent: false,
        signal: AbortSignal.timeout(timeoutMs),
      },
      (answer) => {
        const status = answer.statusCode ?? 0;
        answer.destroy();
        resolved(status);
      },
    );
    call.on('error', (error) => {
      const slow = error.name === 'AbortError' || error.name === 'TimeoutError';
      rejected(new NotTaken(slow ? 'It did not answer in time.' : 'It could not be reached.'));
    });
    call.end(body);
  });
}
