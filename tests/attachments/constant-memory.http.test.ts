import { createReadStream } from 'node:fs';
import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { largePdf } from '../support/large-pdf.ts';
import { startServer, type RunningServer } from '../support/running-server.ts';

/** Resident memory is read from /proc, which Linux alone has. */
const linux = process.platform === 'linux';
const MEGABYTE = 1024 * 1024;
const FILE_MEGABYTES = 199;

let server: RunningServer;
let folder = '';
let cookie = '';
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-large-'));
  server = await startServer({ DEMO: 'false', LOG_LEVEL: 'error' });
}, 180_000);
afterAll(async () => {
  await server.stop();
  await rm(folder, { recursive: true, force: true });
});

async function memory(pid: number): Promise<{ nowBytes: number; peakBytes: number }> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8');
  const field = (name: string) => Number(new RegExp(`${name}:\\s+(\\d+) kB`).exec(status)?.[1]) * 1024;
  return { nowBytes: field('VmRSS'), peakBytes: field('VmHWM') };
}

async function page(url: string): Promise<{ body: string; token: string }> {
  const answer = await fetch(url, { headers: { cookie } });
  remember(answer);
  const body = await answer.text();
  return { body, token: /name="_csrf" value="([^"]+)"/.exec(body)?.[1] ?? '' };
}

function remember(answer: Response): void {
  const jar = new Map(
    cookie
      .split('; ')
      .filter(Boolean)
      .map((pair) => pair.split(/=(.*)/s) as [string, string]),
  );
  for (const line of answer.headers.getSetCookie()) {
    const [name = '', value = ''] = line.split(';')[0]!.split(/=(.*)/s);
    if (value === '') jar.delete(name);
    else jar.set(name, value);
  }
  cookie = [...jar].map(([name, value]) => `${name}=${value}`).join('; ');
}

async function post(url: string, at: string, fields: Record<string, string>): Promise<string> {
  const { token } = await page(at);
  const answer = await fetch(url, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie, 'sec-fetch-site': 'same-origin' },
    body: new URLSearchParams({ _csrf: token, ...fields }),
  });
  remember(answer);
  if (answer.status !== 303) throw new Error(`${url} answered ${answer.status}: ${await answer.text()}`);
  return answer.headers.get('location') ?? '';
}

/** Sends the file as a form, from the disk, as a browser does. */
async function send(projectUrl: string, openingUrl: string, file: string): Promise<number> {
  const { token } = await page(openingUrl);
  const subjectId = openingUrl.split('/').at(-1) ?? '';
  const fields = { _csrf: token, subject: 'opening', subjectId, caption: '', back: '' };
  const prologue =
    Object.entries(fields)
      .map(([name, value]) => `--b\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`)
      .join('') + '--b\r\nContent-Disposition: form-data; name="file"; filename="large.pdf"\r\n\r\n';
  const sending = request(`${projectUrl}/attachments`, {
    method: 'POST',
    headers: { cookie, 'sec-fetch-site': 'same-origin', 'content-type': 'multipart/form-data; boundary=b' },
  });
  const answered = new Promise<number>((resolve, reject) => {
    sending.on('response', (response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
    });
    sending.on('error', reject);
  });
  await pipeline(async function* () {
    yield prologue;
    yield* createReadStream(file);
    yield '\r\n--b--\r\n';
  }, sending);
  return answered;
}

describe.skipIf(!linux)('a drawing of 199 MB', () => {
  it('raises the resident memory of the service by less than 64 MB, coming in and going out', async () => {
    await post(`${server.url}/sign-up`, `${server.url}/sign-up`, {
      name: 'Sender',
      email: 'sender@example.org',
      password: 'four words in a row',
    });
    const location = await post(`${server.url}/projects`, `${server.url}/projects/new`, {
      name: 'Large',
      address: '1 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    const projectId = /[0-9a-f-]{36}/.exec(location)?.[0] ?? '';
    const projectUrl = `${server.url}/projects/${projectId}`;
    const opening = await post(`${projectUrl}/openings`, projectUrl, { name: 'One' });
    const openingUrl = new URL(opening, server.url).href;
    const file = path.join(folder, 'large.pdf');
    await writeFile(file, largePdf(FILE_MEGABYTES));

    // The service's start costs more at its peak than what it keeps; that peak is not the drawing's.
    await writeFile(`/proc/${server.pid}/clear_refs`, '5');
    const before = await memory(server.pid);
    expect(await send(projectUrl, openingUrl, file)).toBe(303);
    const { body } = await page(openingUrl);
    const href = /\/projects\/[0-9a-f-]+\/attachments\/[0-9a-f-]{36}/.exec(body)?.[0] ?? '';
    const served = await fetch(`${server.url}${href}`, { headers: { cookie } });
    let servedBytes = 0;
    for await (const chunk of served.body ?? []) servedBytes += (chunk as Uint8Array).length;
    expect(servedBytes).toBe((await stat(file)).size);
    const afterwards = await memory(server.pid);
    const raisedMegabytes = (afterwards.peakBytes - before.nowBytes) / MEGABYTE;
    console.log(`resident memory raised by ${raisedMegabytes.toFixed(1)} MB at its peak`);
    expect(raisedMegabytes).toBeLessThan(64);
  }, 180_000);
});
