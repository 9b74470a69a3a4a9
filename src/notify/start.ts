import path from 'node:path';
import { waysOut } from '../api/webhooks/rules.ts';
import { webhookWork } from '../api/webhooks/work.ts';
import { listen } from '../database/listen.ts';
import type { Deps } from '../web/deps.ts';
import type { Carrier } from './mail/carrier.ts';
import { folderCarrier } from './mail/folder-carrier.ts';
import { lettersOf } from './mail/letters.ts';
import { smtpCarrier } from './mail/smtp-carrier.ts';
import { ordinaryWork, startMailWork } from './jobs/mail-jobs.ts';

interface Log {
  info: (facts: object, sentence: string) => void;
  warn: (facts: object, sentence: string) => void;
  error: (facts: object, sentence: string) => void;
}

/** Far longer than a hand-over may take (see the limits in smtp-carrier.ts), shorter than a job (ordinaryWork). */
const LEASE_MS = 240_000;
/** With pauses that double from half a minute: given up after about half a day. */
const ATTEMPTS = 11;
/** The same pauses: given up after about an hour. */
const CALL_ATTEMPTS = 8;

/**
 * Everything of this room that runs by itself in one process: the connection that hears of what is committed, and the
 * workers of the outbox.
 *
 * @returns ends it, after what is under way.
 */
export async function startNotifying(
  deps: Deps,
  { databaseUrl, secret, log }: { databaseUrl: string; secret: string; log: Log },
): Promise<() => Promise<void>> {
  const { config, prisma, clock, live } = deps;
  const { mail, publicUrl } = config;
  const carrier: Carrier =
    mail.smtpUrl === null
      ? folderCarrier(path.resolve(config.dataFolder, 'mail'))
      : smtpCarrier(mail.smtpUrl);
  const work = await startMailWork(
    {
      prisma,
      clock,
      carrier,
      sender: { from: mail.from, publicUrl },
      write: lettersOf({ ...deps, secret }),
      leaseMs: LEASE_MS,
      attempts: ATTEMPTS,
      others: [
        webhookWork(
          {
            prisma,
            clock,
            secret,
            ways: waysOut(config),
            told: (callId, said) => {
              log.info({ callId, ...said }, 'webhook call');
            },
          },
          { attempts: CALL_ATTEMPTS, leaseMs: LEASE_MS },
        ),
      ],
      tell: {
        settled(letterId, state, problem) {
          if (state === 'sent' || state === 'dropped') log.info({ letterId, state }, 'letter settled');
          else log.error({ letterId, state, problem }, 'a letter was not sent; see scripts/mail');
        },
        later(letterId, problem) {
          log.warn({ letterId, problem }, 'a letter could not be sent yet');
        },
        failed(error) {
          log.error({ err: error }, 'the outbox could not be worked');
        },
      },
    },
    { ...ordinaryWork, databaseUrl, gather: { waitMs: mail.waitMs, dailyHour: mail.dailyHour } },
  );
  const listening = listen({
    databaseUrl,
    channels: {
      lintelbook_event: (payload) => {
        live.heard(payload);
      },
      // The payload is the table's name.
      lintelbook_outbox: (table) => {
        work.called(table === 'news' ? 'lines' : 'at once');
      },
    },
    onConnected: () => {
      live.readUp();
      work.called('at once');
    },
    onLost: (error) => {
      log.warn({ err: error }, 'the listening connection broke; it is made anew');
    },
    say: (channel, word) => prisma.$executeRaw`SELECT pg_notify(${channel}, ${word})`,
  });
  return async () => {
    await listening.close();
    await work.close();
  };
}
