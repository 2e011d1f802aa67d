/**
 * Builds the simulator into one file and runs it. In one file no import is waited for, so that nothing
 * but the seed decides in which order things happen.
 */
import { spawn } from 'node:child_process';
import { bundle } from './bundle.ts';

const file = await bundle();
const child = spawn(process.execPath, [file, ...process.argv.slice(2)], { stdio: 'inherit' });
child.on('exit', (code) => {
  process.exitCode = code ?? 1;
});
