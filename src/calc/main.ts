import { readFile } from 'node:fs/promises';
import { text } from 'node:stream/consumers';
import { z } from 'zod';
import { openingInputSchema } from '../engineering/proposal/input.ts';
import { calculateOpening } from '../engineering/proposal/opening.ts';
import { Refusal } from '../engineering/trace/index.ts';
import { calculationSheet } from './sheet.ts';
import { shownOutcome } from './shown.ts';

const USAGE = `Usage: scripts/calc FILE.json [--text]     the whole calculation of one opening, as JSON or as a sheet
       scripts/calc - [--text]             the same from standard input
       scripts/calc --schema               the JSON Schema of the input
Exit: 0 calculated, 2 the input can't be used (each wrong field with its path), 1 anything else.
Worked inputs: scripts/examples/*.json. Two of them have checks that are not met, to show how that reads: the nails between
the plies in two-storey-flush-lvl.json, the soil in long-span-steel.json.`;

/** One line for each wrong field: its path and why. Exit 2. */
class BadInput extends Error {
  override readonly name = 'BadInput';
}

async function readInput(source: string): Promise<unknown> {
  let words: string;
  try {
    words = source === '-' ? await text(process.stdin) : await readFile(source, 'utf8');
  } catch (error) {
    throw new BadInput(
      `${source}: ${(error as NodeJS.ErrnoException).code === 'ENOENT' ? 'there is no such file' : 'it cannot be read'}`,
    );
  }
  try {
    return JSON.parse(words) as unknown;
  } catch (error) {
    throw new BadInput(`${source}: not JSON (${error instanceof Error ? error.message : String(error)})`);
  }
}

function calculate(given: unknown): ReturnType<typeof calculateOpening> {
  const parsed = openingInputSchema.safeParse(given);
  if (!parsed.success) {
    const lines = parsed.error.issues.map(
      (issue) => `${issue.path.map(String).join('.') || '(the whole)'}: ${issue.message}`,
    );
    throw new BadInput(lines.join('\n'));
  }
  try {
    return calculateOpening(parsed.data);
  } catch (error) {
    if (error instanceof Refusal) throw new BadInput(`${error.path}: ${error.message}`);
    throw error;
  }
}

function asJson(outcome: ReturnType<typeof calculateOpening>): string {
  return JSON.stringify(
    shownOutcome(outcome),
    (_key, value: unknown) => (value === Infinity ? null : value),
    2,
  );
}

async function main(args: readonly string[]): Promise<void> {
  const files = args.filter((arg) => arg === '-' || !arg.startsWith('--'));
  if (args.includes('--schema')) {
    console.log(JSON.stringify(z.toJSONSchema(openingInputSchema, { io: 'input' }), null, 2));
    return;
  }
  const [file] = files;
  const unknown = args.filter((arg) => arg.startsWith('--') && arg !== '--text');
  if (file === undefined || files.length > 1 || unknown.length > 0) throw new BadInput(USAGE);
  const outcome = calculate(await readInput(file));
  console.log(args.includes('--text') ? calculationSheet(outcome) : asJson(outcome));
}

// Whoever reads has read enough: scripts/calc FILE --text | head
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

main(process.argv.slice(2)).catch((error: unknown) => {
  if (error instanceof BadInput) {
    console.error(error.message);
    process.exitCode = 2;
  } else {
    console.error(error);
    process.exitCode = 1;
  }
});
