import { Readable } from 'node:stream';
import { parseConnectionUrl } from 'nodemailer/lib/shared';
import SmtpConnection from 'nodemailer/lib/smtp-connection';
import type { Carried, Carrier } from './carrier.ts';
import type { Prepared } from './message.ts';

export interface SmtpLimits {
  readonly connectMs: number;
  readonly greetingMs: number;
  /** Silence after which the other side counts as gone. */
  readonly silenceMs: number;
}

const ordinaryLimits: SmtpLimits = { connectMs: 20_000, greetingMs: 20_000, silenceMs: 60_000 };

interface SmtpError extends Error {
  readonly code?: string;
  readonly command?: string;
  readonly responseCode?: number;
}

const loopback = new Set(['localhost', '127.0.0.1', '::1', '[::1]']);

/**
 * Hands letters to a mail server, a connection for each. It drives nodemailer's connection itself, and not through its
 * transport, to know the one moment that matters: when the server has said 354 and the letter's own bytes begin to
 * leave. Before it, any failure means that nothing was sent; after it, only the server's answer says so.
 *
 * A password is never sent over a line that is not encrypted, except to this machine itself.
 */
export function smtpCarrier(smtpUrl: string, limits: SmtpLimits = ordinaryLimits): Carrier {
  const { auth, ...options } = parseConnectionUrl(smtpUrl);
  const needTls = auth !== undefined && options.secure !== true && !loopback.has(options.host ?? '');

  return {
    async carry(prepared, handingOver) {
      let begun = false;
      const connection = new SmtpConnection({
        ...options,
        ...(needTls ? { requireTLS: true } : {}),
        connectionTimeout: limits.connectMs,
        greetingTimeout: limits.greetingMs,
        socketTimeout: limits.silenceMs,
        logger: false,
      });
      const broken = new Promise<never>((_, reject) => {
        connection.once('error', reject);
        connection.once('end', () => {
          reject(new Error('The mail server closed the connection.'));
        });
      });
      // It may break when nobody waits for it any more.
      broken.catch(() => undefined);
      const step = (begin: (done: (error?: Error | null) => void) => void) =>
        Promise.race([
          broken,
          new Promise<void>((resolve, reject) => {
            begin((error) => {
              if (error) reject(error);
              else resolve();
            });
          }),
        ]);
      try {
        await step((done) => {
          connection.connect(done);
        });
        if (auth !== undefined) {
          await step((done) => {
            connection.login({ ...auth, credentials: auth }, done);
          });
        }
        const letter = lazily(prepared, async () => {
          await handingOver();
          begun = true;
        });
        await step((done) => {
          connection.send({ from: prepared.from, to: [prepared.to] }, letter, done);
        });
        connection.quit();
        return { is: 'accepted' };
      } catch (error) {
        connection.close();
        return judge(error as SmtpError, begun);
      }
    },
  };
}

/** A stream that asks before it gives its first byte. nodemailer reads it only after the server's 354. */
function lazily({ bytes }: Prepared, before: () => Promise<void>): Readable {
  let asked = false;
  return new Readable({
    read() {
      if (asked) return;
      asked = true;
      before().then(
        () => {
          this.push(bytes);
          this.push(null);
        },
        (error: unknown) => this.destroy(error instanceof Error ? error : new Error(String(error))),
      );
    },
  });
}

/** The server's answer decides; where there is none, whether the bytes had begun to leave. */
function judge(error: SmtpError, begun: boolean): Carried {
  const problem = describe(error);
  const { responseCode, command = '', code } = error;
  if (responseCode !== undefined && responseCode >= 400) {
    // A refused sign-in is for the operator to put right, not the letter's fault (RFC 5321, 4.2.1: 5yz is permanent).
    const forGood = responseCode >= 500 && code !== 'EAUTH' && !command.startsWith('AUTH');
    return { is: 'refused', forGood, problem };
  }
  if (begun) return { is: 'unsure', problem };
  return { is: 'refused', forGood: false, problem };
}

/** In words for the operator; the server's own words may repeat an address, never a password. */
function describe({ code = '', command = '', responseCode, message }: SmtpError): string {
  const where = [code, command.startsWith('AUTH') ? 'AUTH' : command, responseCode ?? ''].filter(
    (part) => part !== '',
  );
  const words = command.startsWith('AUTH') ? 'The mail server refused the sign-in.' : message;
  return `${where.join(' ')}: ${words}`.replace(/\s+/g, ' ').slice(0, 500);
}
