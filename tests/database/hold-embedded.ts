import { startEmbeddedPostgres } from '../../src/database/embedded.ts';
import { StartProblem } from '../../src/database/problems.ts';

// A process of its own that starts a server and holds it, for the tests of what happens when it dies.
// Prints the URL, or the sentence of the problem.
const [dataFolder = '', fallbackParent = ''] = process.argv.slice(2);
try {
  const server = await startEmbeddedPostgres({
    dataFolder,
    fallbackParent,
    durable: false,
    log: () => undefined,
  });
  console.log(server.url);
  setInterval(() => undefined, 60_000);
} catch (error) {
  if (!(error instanceof StartProblem)) throw error;
  console.log(error.sentence);
}
