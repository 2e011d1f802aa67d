import type { Mishap } from '../../protocol/types.ts';

const unitOr = (unit: string): string => (unit === '' ? 'A unit' : unit);
const about = (what: string, of: string): string => (of === '' ? what : `${what}, ${of}`);

/** What is one tap away while cement is out. */
export const atHand = {
  title: 'At hand',
  probeNow: (portion: string): string =>
    `Probe the bead of ${portion} now. The mouth is warmer: cement there is ahead of it.`,
  probed: (o: { readonly mix: string; readonly since: string }): string =>
    `Bead of ${o.mix}, probed ${o.since} ago`,
  laid: (o: { readonly mix: string; readonly since: string }): string =>
    `Bead of ${o.mix}, cement out ${o.since} ago`,
  found: (o: { readonly mix: string; readonly found: string }): string =>
    `Bead of ${o.mix}: ${o.found}`,
  /** Without a subject where several may be meant. */
  mishap: {
    'unit-will-not-seat': (unit) => `${unitOr(unit)} will not seat`,
    'unit-dropped': (unit) => `${unitOr(unit)} dropped`,
    chipped: (unit) => `${unitOr(unit)} chipped`,
    'left-in-light': (unit) => `${unitOr(unit)} left in light`,
    saliva: (tooth) => `Saliva ${tooth}`.trim(),
    blood: (tooth) => `Blood ${tooth}`.trim(),
    'dried-out': (tooth) => `Dried out ${tooth}`.trim(),
    'haemostatic-on-tooth': (tooth) => `Astringent ${tooth}`.trim(),
    'over-time': (what) => about('Too late', what),
    'short-time': (what) => about('Too short', what),
    'wrong-material': () => 'Wrong material',
    'light-failed': () => 'Light failed',
    'light-weak': () => 'Light weak',
    'gelled-early': (portion) => about('Gels early', portion),
    'patient-must-rinse': () => 'Patient must rinse',
    stopped: () => 'Stopped',
  } satisfies Record<Mishap, (subject: string) => string>,
  swap: (o: { readonly first: string; readonly second: string }): string =>
    `${o.second} before ${o.first}`,
  swapReason: 'Swapped while seating',
};

/** What has happened and must be answered at once. */
export const atOnce = {
  title: 'Answer now',
  because: {
    'bead-firm': (portion: string): string => `The bead of ${portion} is firm.`,
    'cement-may-be-over': (portion: string): string =>
      `The working time of ${portion} may be over.`,
    'cement-over': (portion: string): string => `The working time of ${portion} is over.`,
    'light-failed': (): string => 'The light failed.',
  } satisfies Record<string, (subject: string) => string>,
  /** The heading over it: short, so that what it asks stands below. */
  againTitle: 'Start again',
  /** The way back of a portion as an answer. */
  /** Where it depends on what nobody pressed. */
  ifDone: (o: { readonly words: string; readonly done: readonly string[] }): string =>
    `${o.words}, after: ${o.done.join('; ')}`,
  again: (portion: string): string => `Start ${portion} again`,
};
