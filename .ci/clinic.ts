/** Runs the clinic's store on this machine. The headers of the page are for the web server's configuration. */
import { fileURLToPath } from 'node:url';
import { escapeUnseen } from '../src/base/unseen.ts';
import { main } from '../src/cli/clinic/main.ts';
import { SERVER_HEADERS } from './vite/page-policy.ts';

// What the server writes is its owner's alone, like everything else in the folder.
process.umask(0o077);
process.exitCode = await main(process.argv.slice(2), {
  checkout: fileURLToPath(new URL('..', import.meta.url)),
  env: process.env,
  say: (line) => process.stdout.write(`${escapeUnseen(line)}\n`),
  headers: SERVER_HEADERS,
});
// A pairing that was begun would hold the process for as long as its code counts.
process.exit();
