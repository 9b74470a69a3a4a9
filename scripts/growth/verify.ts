import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import path from 'node:path';

/** How often the memory of the program is looked at. */
const LOOK_MS = 250;
/** Enough to see whether memory grows; the program is ended there. */
const ENOUGH_EVENTS = 1_000_000;
const A_LINE_EACH = 100_000;

/** Runs `scripts/verify --all` and says how much memory it held as its work went on. */
export async function verifyAll(databaseUrl: string, dataFolder: string): Promise<void> {
  const start = performance.now();
  const program = spawn(process.execPath, ['--import', 'tsx', 'src/record/verify/main.ts', '--all'], {
    cwd: path.resolve(import.meta.dirname, '../..'),
    env: { ...process.env, DATABASE_URL: databaseUrl, DATA_DIR: dataFolder, NODE_ENV: 'production' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let [projects, events, broken] = [0, 0, 0];
  let held: number[] = [];
  const parts: { events: number; mb: number }[] = [];
  let rest = '';
  program.stdout.on('data', (chunk: Buffer) => {
    const lines = (rest + chunk.toString()).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) {
      if (line.includes('BROKEN')) {
        broken += 1;
        console.log(line);
      }
      const counted = /OK: (\d+) events/.exec(line)?.[1];
      if (counted === undefined) continue;
      projects += 1;
      events += Number(counted);
      if (events >= (parts.length + 1) * A_LINE_EACH) {
        parts.push({ events, mb: Math.max(...held) });
        held = [];
      }
      if (events >= ENOUGH_EVENTS) program.kill();
    }
  });
  const look = setInterval(() => {
    void readFile(`/proc/${program.pid ?? 0}/status`, 'utf8').then(
      (status) => held.push(Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1]) / 1024),
      () => undefined,
    );
  }, LOOK_MS);
  const [code] = (await once(program, 'exit')) as [number | null];
  clearInterval(look);
  const seconds = (performance.now() - start) / 1000;
  const ended = code === null ? 'ended by us' : `ended with ${code}`;
  console.log(
    `scripts/verify --all: ${ended}; ${projects} projects, ${events} events, ${broken} broken, ${(events / seconds).toFixed(0)} events a second`,
  );
  console.table(
    parts.map(({ events: until, mb }) => ({ 'until event': until, 'most memory, MB': Math.round(mb) })),
  );
}
