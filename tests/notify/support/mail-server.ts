import { once } from 'node:events';
import { text } from 'node:stream/consumers';
import { SMTPServer } from 'smtp-server';

export interface Received {
  readonly from: string;
  readonly to: readonly string[];
  readonly source: string;
  readonly messageId: string;
  readonly authenticatedAs: string | null;
}

/** What the next letters meet; the server takes them where nothing is said. */
export interface Trouble {
  readonly at: 'recipient' | 'letter';
  readonly code: number;
  readonly times: number;
}

export interface MailServer {
  readonly url: string;
  readonly port: number;
  readonly received: Received[];
  meet: (trouble: Trouble) => void;
  /** Takes the letter, and answers only once this resolves. */
  holdAnswers: (until: Promise<void> | null) => void;
  /** Says nothing to the next recipient; resolves when one was named. */
  ignoreNextRecipient: () => Promise<void>;
  /** Resolves when the whole text of a letter has come in, whatever is answered then. */
  nextLetter: () => Promise<Received>;
  close: () => Promise<void>;
}

/** A mail server of the tests: real SMTP over a socket, letters kept in memory, troubles on request. */
export async function startMailServer(): Promise<MailServer> {
  const received: Received[] = [];
  const troubles: { trouble: Trouble; left: number }[] = [];
  let hold: Promise<void> | null = null;
  let ignore: (() => void) | null = null;
  let waiting: ((letter: Received) => void)[] = [];

  function trouble(at: Trouble['at']): Error | null {
    const met = troubles.find((one) => one.left > 0 && one.trouble.at === at);
    if (met === undefined) return null;
    met.left -= 1;
    return Object.assign(new Error('Not now'), { responseCode: met.trouble.code });
  }

  const server = new SMTPServer({
    disabledCommands: ['STARTTLS'],
    authOptional: true,
    allowInsecureAuth: true,
    logger: false,
    onAuth({ username, password }, _session, done) {
      if (password === 'right') done(null, { user: username });
      else done(Object.assign(new Error('No such sign-in'), { responseCode: 535 }));
    },
    onRcptTo(_address, _session, done) {
      if (ignore !== null) {
        ignore();
        ignore = null;
        return;
      }
      done(trouble('recipient'));
    },
    onData(stream, session, done) {
      const take = async (source: string) => {
        const letter: Received = {
          from: session.envelope.mailFrom === false ? '' : session.envelope.mailFrom.address,
          to: session.envelope.rcptTo.map(({ address }) => address),
          source,
          messageId: /^Message-ID: (.*)$/im.exec(source)?.[1] ?? '',
          authenticatedAs: (session.user as string | undefined) ?? null,
        };
        const refused = trouble('letter');
        if (refused === null) received.push(letter);
        for (const tell of waiting) tell(letter);
        waiting = [];
        await hold;
        done(refused);
      };
      // A letter that breaks off was never here.
      text(stream).then(take, () => undefined);
    },
  });
  server.on('error', () => undefined);
  const listening = server.listen(0, '127.0.0.1');
  await once(listening, 'listening');
  const address = listening.address();
  if (typeof address !== 'object' || address === null) throw new Error('no port');
  return {
    url: `smtp://127.0.0.1:${address.port}`,
    port: address.port,
    received,
    meet: (one) => troubles.push({ trouble: one, left: one.times }),
    holdAnswers: (until) => {
      hold = until;
    },
    ignoreNextRecipient: () =>
      new Promise((resolve) => {
        ignore = resolve;
      }),
    nextLetter: () =>
      new Promise((resolve) => {
        waiting.push(resolve);
      }),
    close: () =>
      new Promise((resolve) => {
        server.close(() => {
          resolve();
        });
      }),
  };
}

/** The decoded parts and headers of a letter, as far as these tests look at them (RFC 5322, 2045). */
export function readLetter(source: string): { headers: string; text: string; html: string } {
  const [head = '', ...rest] = source.split('\r\n\r\n');
  const headers = head.replace(/\r\n[ \t]+/g, ' ');
  const boundary = /boundary="([^"]+)"/.exec(headers)?.[1] ?? '';
  const parts = rest.join('\r\n\r\n').split(`--${boundary}`);
  const body = (type: string) => {
    const part = parts.find((one) => one.includes(`Content-Type: ${type}`)) ?? '';
    const [partHead = '', ...content] = part.split('\r\n\r\n');
    const raw = content.join('\r\n\r\n');
    if (/base64/i.test(partHead)) return Buffer.from(raw, 'base64').toString('utf8');
    if (!/quoted-printable/i.test(partHead)) return raw;
    const bytes = raw
      .replace(/=\r\n/g, '')
      .replace(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
    return Buffer.from(bytes, 'latin1').toString('utf8');
  };
  return { headers, text: body('text/plain'), html: body('text/html') };
}
