import { get, type IncomingMessage } from 'node:http';
import { once } from 'node:events';
import { setTimeout as wait } from 'node:timers/promises';

export interface Change {
  readonly id: number;
  readonly what: string;
  readonly by: string;
  readonly path: string;
}

export interface Stream {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly changes: Change[];
  /** The last place in the log that the stream named, told or not. */
  readonly place: () => number;
  readonly text: () => string;
  /** Resolves when the other side ends it. */
  readonly ended: Promise<void>;
  readonly until: (count: number) => Promise<void>;
  readonly close: () => void;
}

/** Opens server-sent events as a browser does, over a socket. */
export async function openStream(
  url: string,
  cookie: string,
  headers: Readonly<Record<string, string>> = {},
): Promise<Stream> {
  const request = get(url, { headers: { accept: 'text/event-stream', cookie, ...headers }, agent: false });
  const [response] = (await once(request, 'response')) as [IncomingMessage];
  const changes: Change[] = [];
  let place = 0;
  let all = '';
  let rest = '';
  response.setEncoding('utf8');
  response.on('data', (chunk: string) => {
    all += chunk;
    const blocks = (rest + chunk).split('\n\n');
    rest = blocks.pop() ?? '';
    for (const block of blocks) {
      const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(block)?.[1];
      const id = Number(field('id'));
      if (field('id') !== undefined) place = id;
      if (field('event') === 'change') {
        changes.push({ id, ...(JSON.parse(field('data') ?? '{}') as Omit<Change, 'id'>) });
      }
    }
  });
  const ended = new Promise<void>((resolve) => {
    response.on('close', resolve);
    response.on('error', () => {
      resolve();
    });
  });
  return {
    status: response.statusCode ?? 0,
    headers: response.headers,
    changes,
    place: () => place,
    text: () => all,
    ended,
    async until(count) {
      while (changes.length < count) await wait(20);
    },
    close: () => {
      request.destroy();
    },
  };
}
