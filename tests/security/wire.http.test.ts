import { once } from 'node:events';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startTestApp, type TestApp } from '../support/app.ts';

/** Bytes on the line that no library would send. */
let test: TestApp;
let port = 0;
beforeAll(async () => {
  test = await startTestApp();
  await test.app.listen({ host: '127.0.0.1', port: 0 });
  const address = test.app.server.address();
  port = typeof address === 'object' && address !== null ? address.port : 0;
});
afterAll(() => test.close());

/** Everything that comes back until the service closes the connection. */
async function send(bytes: string): Promise<string> {
  const socket = connect(port, '127.0.0.1');
  const got: Buffer[] = [];
  socket.on('data', (chunk: Buffer) => got.push(chunk));
  socket.on('error', () => undefined);
  await once(socket, 'connect');
  socket.write(bytes, 'latin1');
  if (!socket.closed) await once(socket, 'close');
  return Buffer.concat(got).toString('latin1');
}
const statuses = (answer: string) =>
  [...answer.matchAll(/^HTTP\/1\.1 (\d{3})/gm)].map(([, status]) => status);
const head = 'POST /sign-in HTTP/1.1\r\nHost: here\r\nContent-Type: application/x-www-form-urlencoded\r\n';
const smuggled = 'GET /health HTTP/1.1\r\nHost: here\r\nConnection: close\r\n\r\n';

describe('on the wire', () => {
  it('a request that says its length twice or two ways is refused', async () => {
    const ways = [
      `${head}Content-Length: 0\r\nContent-Length: ${smuggled.length}\r\n\r\n${smuggled}`,
      `${head}Content-Length: ${smuggled.length}\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n${smuggled}`,
      `${head}Transfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n${smuggled}`,
      `${head}Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n${smuggled}`,
      `${head}Transfer-Encoding : chunked\r\n\r\n0\r\n\r\n${smuggled}`,
      `${head}Content-Length: +5\r\n\r\nabcde${smuggled}`,
      `${head}Content-Length: -1\r\n\r\n${smuggled}`,
      `GET /health HTTP/1.1\r\nHost: here\r\n X-Folded: y\r\n\r\n${smuggled}`,
      `GET /health HTTP/1.1\nHost: here\r\nX\u0000Y: 1\r\n\r\n${smuggled}`,
    ];
    for (const way of ways) {
      const answer = await send(way);
      expect(statuses(answer), JSON.stringify(way)).toEqual(['400']);
      // The second request was never taken for one.
      expect(answer).not.toContain('\r\n\r\nok\n');
    }
  });

  it('headers that are too long are refused, and the service goes on', async () => {
    const long = await send(`GET /health HTTP/1.1\r\nHost: here\r\nCookie: ${'x'.repeat(40_000)}\r\n\r\n`);
    expect(statuses(long)).toEqual(['431']);
    const many = await send(
      `GET /health HTTP/1.1\r\nHost: here\r\n${Array.from({ length: 3000 }, (_, n) => `X-${n}: y\r\n`).join('')}\r\n`,
    );
    expect(['431', '400']).toContain(statuses(many)[0]);
    expect(await send(smuggled)).toContain('ok\n');
  });

  it('a host that is not ours changes no address of an answer', async () => {
    const answer = await send(
      'GET /account HTTP/1.1\r\nHost: evil.example\r\nX-Forwarded-Host: evil.example\r\nConnection: close\r\n\r\n',
    );
    expect(statuses(answer)).toEqual(['303']);
    expect(answer).not.toContain('evil.example');
  });
});
