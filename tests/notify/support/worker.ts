import { createDatabase } from '../../../src/database/client.ts';
import { startMailWork } from '../../../src/notify/jobs/mail-jobs.ts';
import { smtpCarrier } from '../../../src/notify/mail/smtp-carrier.ts';
import { sendDeps } from './sending.ts';

/**
 * A process that works the outbox as the service does, with short intervals; tests start several of it and kill them.
 * The limits of the mail connection are long, so that what ends a hand-over is the test.
 */
const databaseUrl = process.env.DATABASE_URL ?? '';
const { prisma } = createDatabase(databaseUrl, { connections: 4 });
const patient = { connectMs: 60_000, greetingMs: 60_000, silenceMs: 60_000 };
await startMailWork(
  {
    ...sendDeps(prisma, process.env.SMTP_URL ?? '', {
      carrier: smtpCarrier(process.env.SMTP_URL ?? '', patient),
      leaseMs: 2_500,
      attempts: 20,
    }),
    tell: {
      settled: (letterId, state) => {
        console.log(`${letterId} ${state}`);
      },
      later: (letterId) => {
        console.log(`${letterId} later`);
      },
      failed: (error) => {
        console.error(error);
      },
    },
  },
  {
    databaseUrl,
    gather: { waitMs: 0, dailyHour: 6 },
    pollMs: 300,
    sweepMs: 1_000,
    jobSeconds: 4,
    maintenanceSeconds: 1,
    retrySeconds: 1,
  },
);
console.log('working');
