import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';
import { freePort } from '../../support/running-server.ts';

/**
 * The line between a phone and the service, which a test can cut. `loseAnswerTo` lets requests of a path through to
 * the service and loses what it answers, once: taken in, and the phone doesn't know.
 */
export interface Wire {
  readonly url: string;
  cut: () => Promise<void>;
  mend: () => Promise<void>;
  loseAnswerTo: (pathPart: string, then: () => void) => void;
  /** Cuts the line once this many bytes of a request to the path have gone through. */
  breakRequestTo: (pathPart: string, bytes: number, then: () => void) => void;
  close: () => Promise<void>;
}

export async function layWire(target: () => number): Promise<Wire> {
  const port = await freePort();
  const sockets = new Set<Socket>();
  let losing: { part: string; then: () => void } | null = null;
  let breaking: { part: string; bytes: number; then: () => void } | null = null;

  const server = createServer((phone) => {
    const service = connect(target(), '127.0.0.1');
    let mute = false;
    let left: number | null = null;
    for (const socket of [phone, service]) {
      sockets.add(socket);
      socket.on('close', () => {
        sockets.delete(socket);
        phone.destroy();
        service.destroy();
      });
      socket.on('error', () => undefined);
    }
    phone.on('data', (chunk) => {
      const head = chunk.toString('latin1');
      if (losing !== null && head.includes(losing.part)) mute = true;
      if (breaking !== null && head.includes(breaking.part)) left = breaking.bytes;
      if (left === null || breaking === null) {
        service.write(chunk);
        return;
      }
      service.write(chunk.subarray(0, left));
      left -= chunk.length;
      if (left > 0) return;
      const { then } = breaking;
      breaking = null;
      // What was written goes out before the line breaks.
      service.end(() => {
        phone.destroy();
        then();
      });
    });
    service.on('data', (chunk) => {
      if (!mute) {
        phone.write(chunk);
        return;
      }
      const then = losing?.then;
      losing = null;
      phone.destroy();
      then?.();
    });
  });
  async function mend() {
    server.listen(port, '127.0.0.1');
    await once(server, 'listening');
  }
  async function cut() {
    if (!server.listening) return;
    server.close();
    for (const socket of sockets) socket.destroy();
    await once(server, 'close');
  }
  await mend();
  return {
    url: `http://127.0.0.1:${port}`,
    mend,
    cut,
    loseAnswerTo: (part, then) => (losing = { part, then }),
    breakRequestTo: (part, bytes, then) => (breaking = { part, bytes, then }),
    close: cut,
  };
}
