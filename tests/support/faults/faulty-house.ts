import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createDatabase } from '../../../src/database/client.ts';
import { startReceiver } from '../../api/support/receiver.ts';
import { startMailServer } from '../../notify/support/mail-server.ts';
import { freePort } from '../running-server.ts';
import { openLedger } from './ledger.ts';
import { setScene } from './scene.ts';
import { serviceProcess } from './service-process.ts';
import { layStatementLine } from './statement-line.ts';
import type { Killing } from './kill-run.ts';

export interface FaultyHouse extends Killing {
  readonly dataFolder: string;
  close: () => Promise<void>;
}

/**
 * The service with all that it needs around it, as processes and servers of their own, on an empty database; by way of
 * the line on which statements are counted, or straight to the database.
 */
export async function buildFaultyHouse(
  databaseUrl: string,
  way: 'by the line' | 'straight' = 'by the line',
): Promise<FaultyHouse> {
  const dataFolder = await mkdtemp(path.join(tmpdir(), 'lintelbook-faults-'));
  const [line, mail, receiver, port] = await Promise.all([
    layStatementLine(databaseUrl),
    startMailServer(),
    startReceiver(),
    freePort(),
  ]);
  const environment = {
    DATABASE_URL: way === 'straight' ? databaseUrl : line.url,
    DATA_DIR: dataFolder,
    DEMO: 'first proposal',
    COOKIE_SECRET: 'one secret through all restarts, long enough',
    PUBLIC_URL: `http://127.0.0.1:${port}`,
    SMTP_URL: mail.url,
    MAIL_FROM: 'record@example.test',
    MAIL_WAIT_SECONDS: '0',
    WEBHOOKS_TO_PRIVATE_ADDRESSES: 'true',
  };
  const service = serviceProcess(port, environment);
  const database = createDatabase(databaseUrl);
  async function close(): Promise<void> {
    await service.stop();
    await database.close();
    await Promise.all([line.close(), mail.close(), receiver.close()]);
    await rm(dataFolder, { recursive: true, force: true });
  }
  try {
    await service.start();
    const ledger = openLedger();
    const scene = await setScene(service.base, database.prisma, ledger, environment, receiver.url);
    return {
      scene,
      service,
      line,
      dataFolder,
      wholeEvery: 1,
      received: () => ({
        messageIds: mail.received.map(({ messageId }) => messageId),
        callIds: receiver.received.map(({ headers }) => String(headers['lintelbook-call'])),
      }),
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}
