/** `npm run clinic`: runs the clinic's store on this machine until it is stopped with Ctrl+C. */
import { problemLine } from '../../base/problem.ts';
import { escapeLine } from '../../base/unseen.ts';
import { clinicArguments, USAGE } from './clinic-arguments.ts';
import { foundClinic } from './found-clinic.ts';
import { runClinic } from './run-clinic.ts';
import { runHub } from './run-hub.ts';
import type { ClinicSurroundings } from './store-machine.ts';

const refused = (line: string): 2 => {
  process.stderr.write(`${escapeLine(line)}\n`);
  return 2;
};

const endedBy = (why: string): 0 | 2 =>
  why === 'stopped' ? 0 : refused(`The server of the store has stopped: ${why}.`);

/** Runs until it is stopped. Answers the exit code: 0 stopped by somebody, 2 could not run or go on. */
export async function main(
  words: readonly string[],
  around: ClinicSurroundings & { readonly ask: (question: string) => Promise<boolean> },
): Promise<0 | 2> {
  if (words.includes('--help') || words.includes('-h')) {
    around.say(USAGE);
    return 0;
  }
  const args = await clinicArguments(words, around.checkout);
  if (!args.ok) return refused(problemLine(args.error));
  const stopped = new Promise<'stopped'>((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      process.on(signal, () => resolve('stopped'));
    }
  });
  const { copies } = args.value;
  if (copies !== null) {
    const started = await runHub(args.value, copies, around);
    if (!started.ok) return refused(problemLine(started.error));
    around.say('Stop it with Ctrl+C.');
    const why = await Promise.race([stopped, started.value.ended]);
    await started.value.stop();
    return endedBy(why);
  }
  const started = await runClinic(args.value, around);
  if (!started.ok) return refused(problemLine(started.error));
  const clinic = started.value;
  around.say('Stop it with Ctrl+C.');
  const ask = args.value.isYes ? () => Promise.resolve(true) : around.ask;
  const anew = args.value.isYes ? {} : { askAnew: around.ask };
  const broken = foundClinic({ ...clinic, say: around.say, ask, ...anew }).then(
    () => new Promise<never>(() => undefined),
    (thrown: unknown) => String(thrown),
  );
  const why = await Promise.race([stopped, clinic.ended, broken]);
  await clinic.stop();
  return endedBy(why);
}
