/** Runs the clinic's store on this machine. The headers of the page are for the web server's configuration. */
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { escapeUnseen } from '../src/base/unseen.ts';
import { main } from '../src/cli/clinic/main.ts';
import { SERVER_HEADERS } from './vite/page-policy.ts';

/** Whether the person at the terminal says yes. */
function ask(question: string): Promise<boolean> {
  const terminal = createInterface({ input: process.stdin, output: process.stdout });
  return new Promise((resolve) => {
    terminal.on('close', () => resolve(false));
    terminal.on('SIGINT', () => process.kill(process.pid, 'SIGINT'));
    terminal.question(question, (answer) => {
      resolve(/^y(es)?$/i.test(answer.trim()));
      terminal.close();
    });
  });
}

// What the server writes is its owner's alone, like everything else in the folder.
process.umask(0o077);
process.exitCode = await main(process.argv.slice(2), {
  checkout: fileURLToPath(new URL('..', import.meta.url)),
  env: process.env,
  say: (line) => process.stdout.write(`${escapeUnseen(line)}\n`),
  headers: SERVER_HEADERS,
  ask,
});
// A pairing that was begun would hold the process for as long as its code counts.
process.exit();
