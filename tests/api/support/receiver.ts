import { once } from 'node:events';
import { createServer, type IncomingHttpHeaders } from 'node:http';
import { text } from 'node:stream/consumers';

export interface Received {
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
  readonly answered: number;
}

export interface Receiver {
  readonly port: number;
  readonly url: string;
  readonly received: readonly Received[];
  /** The next answers, then 200. */
  answer: (...statuses: number[]) => void;
  close: () => Promise<void>;
}

/** A program that is told, on this machine. */
export async function startReceiver(): Promise<Receiver> {
  const received: Received[] = [];
  const statuses: number[] = [];
  const server = createServer((request, response) => {
    void text(request).then((body) => {
      const answered = statuses.shift() ?? 200;
      received.push({ headers: request.headers, body, answered });
      response
        .writeHead(answered, answered === 302 ? { location: 'http://127.0.0.1:1/' } : {})
        .end('so be it');
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return {
    port,
    url: `http://127.0.0.1:${port}/told`,
    received,
    answer(...more) {
      statuses.push(...more);
    },
    async close() {
      server.close();
      server.closeAllConnections();
      if (server.listening) await once(server, 'close');
    },
  };
}
