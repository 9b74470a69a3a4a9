import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const script = fileURLToPath(new URL('../../../scripts/verify', import.meta.url));

/** Runs `scripts/verify` as a person at a terminal would, and answers what it said and how it ended. */
export async function runVerify(
  environment: Readonly<Record<string, string>>,
  ...given: readonly string[]
): Promise<{ readonly code: number; readonly stdout: string; readonly stderr: string }> {
  try {
    const env = { ...process.env, ...environment };
    const { stdout, stderr } = await promisify(execFile)(script, given, { env });
    return { code: 0, stdout, stderr };
  } catch (error) {
    const { code, stdout, stderr } = error as { code: number; stdout: string; stderr: string };
    return { code, stdout, stderr };
  }
}
