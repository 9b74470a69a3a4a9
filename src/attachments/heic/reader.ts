import type { ChildProcess } from 'node:child_process';
import { inBoundedChild, type ChildLimits } from '../bounded-child.ts';
import { createTurns } from '../turns.ts';
import type { DrawTask, FromChild } from './messages.ts';

/** Damaged, too large, or at a limit: what can't be decoded can't be checked and is not kept. */
export class HeicUnreadable extends Error {
  override readonly name = 'HeicUnreadable';
  readonly why = 'too much';
}

const defaultLimits: ChildLimits = { timeMs: 30_000, memoryBytes: 1024 * 1024 * 1024 };
/** One at a time: a large photo takes half a gigabyte while it is decoded. */
const turns = createTurns(1);

export interface DrawnHeic {
  /** WebP, upright, without the camera's metadata. */
  readonly picture: Buffer;
  /** Of the photo as shown, before it was made smaller. */
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Decodes the photo and draws it no wider than `widthPx`. @throws HeicUnreadable */
export function drawHeic(bytes: Buffer, widthPx: number, limits = defaultLimits): Promise<DrawnHeic> {
  return turns(() =>
    inBoundedChild(new URL('./child.ts', import.meta.url), limits, (child) =>
      conversation(child, { bytes, widthPx }),
    ),
  );
}

function conversation(child: ChildProcess, task: DrawTask): Promise<DrawnHeic> {
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', () => {
      reject(new HeicUnreadable('The photo took more than it may.'));
    });
    child.once('message', (answer: FromChild) => {
      if (answer.say === 'failed') reject(new HeicUnreadable('The photo can’t be decoded.'));
      else resolve({ ...answer, picture: Buffer.from(answer.picture) });
    });
    child.send(task, () => undefined);
  });
}
