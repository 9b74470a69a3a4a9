import { setTimeout as wait } from 'node:timers/promises';

/** Ends the pause of the one loop that waits for it; rung while that is at work, it ends the next pause. */
export class Bell {
  readonly #ended: AbortSignal;
  #rung = new AbortController();

  /** @param ended ends every pause */
  constructor(ended: AbortSignal) {
    this.#ended = ended;
  }

  ring(): void {
    this.#rung.abort();
  }

  /** Until the bell rings, at most so long. */
  async pause(ms: number): Promise<void> {
    const signal = AbortSignal.any([this.#ended, this.#rung.signal]);
    await wait(ms, undefined, { signal }).catch(() => undefined);
    this.#rung = new AbortController();
  }
}
