import { mkdir, rename, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Carrier } from './carrier.ts';

/**
 * For a demo and for development: letters become files that any mail program opens. A letter has one name, so that the
 * same letter is never there twice.
 */
export function folderCarrier(folder: string): Carrier {
  return {
    async carry({ letterId, bytes }, handingOver) {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      await handingOver();
      const whole = path.join(folder, `${letterId}.eml`);
      await writeFile(`${whole}.part`, bytes, { mode: 0o600 });
      await rename(`${whole}.part`, whole);
      return { is: 'accepted' };
    },
  };
}
