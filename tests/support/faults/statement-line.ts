import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';

/** What the service says to PostgreSQL: one message of the frontend, by the frontend/backend protocol 3.0. */
export interface Said {
  /** 'Q' a simple query, 'P' a prepared one, 'B' its values, 'E' its execution, 'S' the end of a request. */
  readonly type: string;
  readonly isCommit: boolean;
}

/** Let it through; keep it and everything after it; let it through and keep what is answered. */
export type Judgement = 'pass' | 'hold' | 'mute';

/**
 * The line between the service and PostgreSQL, on which a test counts statements and stops at one of them: before it
 * reached the server, or after the server did it and before the service heard of it.
 */
export interface StatementLine {
  /** The same database, by way of this line. */
  readonly url: string;
  /** Judges each message from now on; null lets everything through. */
  watch: (judge: ((said: Said) => Judgement) | null) => void;
  /** Resolves when the server has answered something that was kept from the service. */
  muted: () => Promise<void>;
  close: () => Promise<void>;
}

const UNTYPED_HEAD_BYTES = 4;
const TYPED_HEAD_BYTES = 5;
const SSL_REQUEST = 80_877_103;

export async function layStatementLine(databaseUrl: string): Promise<StatementLine> {
  const target = new URL(databaseUrl);
  const sockets = new Set<Socket>();
  let judge: ((said: Said) => Judgement) | null = null;
  let tellMuted: () => void = () => undefined;

  const server = createServer((service) => {
    const database = connect(Number(target.port === '' ? 5432 : target.port), target.hostname);
    let pending = Buffer.alloc(0);
    let greeted = false;
    let held = false;
    let mute = false;
    for (const socket of [service, database]) {
      sockets.add(socket);
      socket.on('error', () => undefined);
      socket.on('close', () => {
        sockets.delete(socket);
        service.destroy();
        database.destroy();
      });
    }

    /** The next whole message of what has come; null where it is not whole yet. */
    function next(): Buffer | null {
      const head = greeted ? TYPED_HEAD_BYTES : UNTYPED_HEAD_BYTES;
      if (pending.length < head) return null;
      const length = pending.readInt32BE(head - 4) + (greeted ? 1 : 0);
      if (pending.length < length) return null;
      const message = pending.subarray(0, length);
      pending = pending.subarray(length);
      return message;
    }

    service.on('data', (chunk) => {
      if (held) return;
      pending = Buffer.concat([pending, chunk]);
      for (let message = next(); message !== null; message = next()) {
        if (!greeted) {
          greeted = message.readInt32BE(4) !== SSL_REQUEST;
        } else if (judge !== null) {
          const judged = judge(read(message));
          if (judged === 'hold') {
            held = true;
            return;
          }
          if (judged === 'mute') mute = true;
        }
        database.write(message);
      }
    });
    database.on('data', (chunk) => {
      if (mute) tellMuted();
      else service.write(chunk);
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const url = new URL(databaseUrl);
  url.port = String(typeof address === 'object' && address !== null ? address.port : 0);
  url.hostname = '127.0.0.1';

  return {
    url: url.href,
    watch: (how) => (judge = how),
    muted: () =>
      new Promise((resolve) => {
        tellMuted = resolve;
      }),
    async close() {
      server.close();
      for (const socket of sockets) socket.destroy();
      if (server.listening) await once(server, 'close');
    },
  };
}

function read(message: Buffer): Said {
  const type = String.fromCharCode(message[0] ?? 0);
  const isCommit = (type === 'Q' || type === 'P') && /\0?COMMIT\b/i.test(message.toString('latin1', 5, 40));
  return { type, isCommit };
}
