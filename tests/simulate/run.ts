/** The command, once it is in one file: runs episodes until so many hours are worked, and tells each as JSON. */
import { parseArgs } from 'node:util';
import { Broken } from './invariants.ts';
import { CLINIC_SPOILS, SPOILS } from './spoil.ts';
import { emptyTally, type Tally, World } from './world.ts';

const { values } = parseArgs({
  options: {
    hours: { type: 'string' },
    presses: { type: 'string' },
    seed: { type: 'string', default: '1' },
    step: { type: 'string' },
    story: { type: 'string', default: '40' },
    episode: { type: 'string', default: '0.25' },
    /** Goes on after something was broken. */
    on: { type: 'boolean', default: false },
    /** Real minutes after which no episode is begun. */
    within: { type: 'string', default: '100000' },
    spoilt: { type: 'boolean', default: false },
    /** Three tablets and one store. */
    clinic: { type: 'boolean', default: false },
  },
});

const add = (to: Tally, more: Tally): void => {
  for (const key of [
    'presses',
    'refused',
    'pictures',
    'kills',
    'cases',
    'entries',
    'minutes',
  ] as const) {
    to[key] += more[key];
  }
  for (const [name, count] of Object.entries(more.faults)) {
    to.faults[name] = (to.faults[name] ?? 0) + count;
  }
};

const told = (line: object): void => console.log(JSON.stringify(line));

const cpuMs = (): number => {
  const { user, system } = process.cpuUsage();
  return Math.round((user + system) / 1000);
};

/** What nobody caught in a page that lives is broken as well. */
function catchAll(world: World): void {
  process.removeAllListeners('unhandledRejection');
  process.on('unhandledRejection', (cause) => {
    if (world.loop.current?.isDead === true) return;
    const what = cause instanceof Error ? cause.stack : cause;
    world.broken ??= new Broken('I5', `nobody caught ${what}`);
  });
}

/** Plays one episode; false when something was broken. */
async function episode(seed: number, all: Tally): Promise<boolean> {
  const { hours, story, step } = { ...values, hours: Number(values.episode) };
  const steps = step === undefined ? {} : { steps: Number(step) };
  const world = new World({
    seed,
    hours,
    story: Number(story),
    isClinic: values.clinic,
    ...steps,
  });
  catchAll(world);
  const beganMs = cpuMs();
  let broken: unknown = null;
  try {
    await world.run();
  } catch (cause) {
    broken = cause instanceof Broken ? cause.message : cause instanceof Error ? cause.stack : cause;
  }
  world.tally.minutes = world.minutesWorked;
  add(all, world.tally);
  const { nowMs, steps: at } = world.loop;
  if (broken === null) {
    told({ seed, steps: at, ...world.tally, faults: undefined, cpuMs: cpuMs() - beganMs });
    return true;
  }
  const again = `npm run simulate --${values.clinic ? ' --clinic' : ''} --seed ${seed} --episode ${hours} --step ${at}`;
  told({ seed, step: at, atMs: nowMs, broken, again });
  for (const line of world.story) console.error(line);
  return false;
}

function sum(all: Tally, more: { readonly episodes: number; readonly broken: number }): void {
  const faults = Object.values(all.faults).reduce((a, b) => a + b, 0);
  const hoursWorked = Math.round(all.minutes / 6) / 10;
  // Simulated time for time of one core: a busy machine changes nothing.
  const speed = Math.round((all.minutes * 60_000) / cpuMs());
  told({ ...more, hoursWorked, ...all, faultsInAll: faults, cpuMs: cpuMs(), speed });
}

async function main(): Promise<number> {
  const all = emptyTally();
  const untilMs = Date.now() + Number(values.within) * 60_000;
  const isEnough = (): boolean => {
    if (Date.now() > untilMs) return true;
    if (values.presses !== undefined) return all.presses >= Number(values.presses);
    return all.minutes >= Number(values.hours ?? 1) * 60;
  };
  let episodes = 0;
  let broken = 0;
  while (!isEnough()) {
    const isWhole = await episode(Number(values.seed) + episodes, all);
    episodes += 1;
    if (!isWhole) broken += 1;
    if (values.step !== undefined || (!isWhole && !values.on)) break;
  }
  sum(all, { episodes, broken });
  return broken === 0 ? 0 : 1;
}

/** Runs with each of the broken promises, and tells which invariant found it out. */
async function spoilt(): Promise<number> {
  for (const [name, { invariant, spoil }] of Object.entries(
    values.clinic ? CLINIC_SPOILS : SPOILS,
  )) {
    let found = '';
    for (let seed = 1; found === '' && seed <= 9; seed += 1) {
      const world = new World({ seed, hours: 0.04, spoil, isClinic: values.clinic });
      try {
        await world.run();
      } catch (cause) {
        found = cause instanceof Error ? cause.message : String(cause);
      }
    }
    told({ spoil: name, invariant, found });
  }
  return 0;
}

process.exitCode = await (values.spoilt ? spoilt() : main());
