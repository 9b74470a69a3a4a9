import { get, type ClientRequest } from 'node:http';

/** The page that somebody has open now, which hears of what happens as the browser's script would. */
export class OpenPage {
  #stream: ClientRequest | null = null;

  readonly #base: string;
  readonly #cookie: string;
  readonly #failed: (problem: string) => void;

  constructor(base: string, cookie: string, failed: (problem: string) => void) {
    this.#base = base;
    this.#cookie = cookie;
    this.#failed = failed;
  }

  /** Another page takes the place of the one before: its stream ends, and one of the new page begins where that stands. */
  shows(html: string): void {
    this.close();
    const [, stream, after] = /data-changes="([^"]+)" data-changes-after="(\d+)"/.exec(html) ?? [];
    if (stream === undefined || after === undefined) return;
    const headers = { accept: 'text/event-stream', cookie: this.#cookie };
    const request = get(`${this.#base}${stream}?after=${after}`, { headers, agent: false }, (answer) => {
      if (answer.statusCode !== 200) this.#failed(`open page: ${String(answer.statusCode)}`);
      answer.resume();
    });
    request.on('error', (error) => {
      if (!request.destroyed) this.#failed(`open page: ${error.message}`);
    });
    this.#stream = request;
  }

  close(): void {
    this.#stream?.destroy();
    this.#stream = null;
  }
}
