import { setImmediate as turnOfTheLoop } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { Bell } from '../../src/notify/jobs/bell.ts';

/** Longer than any test may take: what returns was rung. */
const FOR_EVER_MS = 600_000;

describe('bell of a loop', () => {
  it('ends the pause', async () => {
    const bell = new Bell(new AbortController().signal);
    const pause = bell.pause(FOR_EVER_MS);
    bell.ring();
    await expect(pause).resolves.toBeUndefined();
  });

  it('rung while its loop is at work, ends the next pause and no further one', async () => {
    const bell = new Bell(new AbortController().signal);
    bell.ring();
    bell.ring();
    await bell.pause(FOR_EVER_MS);
    let rung = false;
    const further = bell.pause(FOR_EVER_MS).then(() => {
      rung = true;
    });
    await turnOfTheLoop();
    expect(rung).toBe(false);
    bell.ring();
    await further;
  });

  it('is no reason to wait once everything ends', async () => {
    const ended = new AbortController();
    const bell = new Bell(ended.signal);
    ended.abort();
    await expect(bell.pause(FOR_EVER_MS)).resolves.toBeUndefined();
  });
});
