/**
 * The etch round of four teeth, modelled a second time and independently: a statechart in XState 5
 * with a clock that is moved by hand. Nothing of the project's engine is used here. Times in ms.
 */
import { assign, createActor, setup } from 'xstate';

/** Bounds of the round, the same as those of the etch protocol of the fixture. */
const ETCH_MS = { min: 15_000, target: 20_000, max: 30_000 } as const;
const RINSE_MS = { min: 10_000, target: 15_000 } as const;
/** People are warned this long before a target. */
const NEARING_MS = 5000;

export const TEETH = ['11', '21', '12', '22'] as const;
export type Tooth = (typeof TEETH)[number];

export interface HandClock {
  readonly nowMs: () => number;
  /** Fires what is due on the way, in order. */
  readonly advanceTo: (ms: number) => void;
  readonly setTimeout: (fire: () => void, delayMs: number) => number;
  readonly clearTimeout: (id: number) => void;
}

function handClock(): HandClock {
  let nowMs = 0;
  let nextId = 1;
  const waiting = new Map<number, { readonly atMs: number; readonly fire: () => void }>();
  return {
    nowMs: () => nowMs,
    setTimeout(fire, delayMs) {
      const id = nextId++;
      waiting.set(id, { atMs: nowMs + delayMs, fire });
      return id;
    },
    clearTimeout: (id) => {
      waiting.delete(id);
    },
    advanceTo(ms) {
      for (;;) {
        const due = [...waiting].sort((a, b) => a[1].atMs - b[1].atMs || a[0] - b[0])[0];
        if (due === undefined || due[1].atMs > ms) break;
        waiting.delete(due[0]);
        nowMs = due[1].atMs;
        due[1].fire();
      }
      nowMs = ms;
    },
  };
}

export interface Told {
  readonly what: string;
  readonly tooth: Tooth;
  readonly atMs: number;
}

interface Context {
  readonly startedMs: Readonly<Partial<Record<Tooth, number>>>;
}

type Event =
  | { readonly type: `gel ${Tooth}` }
  | { readonly type: `rinse ${Tooth}` }
  | { readonly type: 'joint' };

/** What the machine says, and what was outside its bounds, by how many ms. */
export interface Witness {
  readonly told: Told[];
  readonly breaches: { readonly what: string; readonly tooth: Tooth; readonly byMs: number }[];
}

function region(tooth: Tooth, clock: HandClock, witness: Witness) {
  const tell = (what: string) => () => {
    witness.told.push({ what, tooth, atMs: clock.nowMs() });
  };
  const breach = (what: string, byMs: number) => {
    if (byMs > 0) witness.breaches.push({ what, tooth, byMs });
  };
  const begin = assign(({ context }: { readonly context: Context }) => ({
    startedMs: { ...context.startedMs, [tooth]: clock.nowMs() },
  }));
  const tookMs = (context: Context) => clock.nowMs() - (context.startedMs[tooth] ?? 0);
  const short = (what: string, minMs: number) => ({
    actions: ({ context }: { readonly context: Context }) => breach(what, minMs - tookMs(context)),
  });
  return {
    initial: 'waiting',
    states: {
      waiting: { on: { [`gel ${tooth}`]: 'etching' } },
      etching: {
        entry: begin,
        initial: 'early',
        on: { [`rinse ${tooth}`]: 'rinsing' },
        states: {
          early: {
            on: {
              [`rinse ${tooth}`]: {
                target: `#${tooth}.rinsing`,
                ...short('short etch', ETCH_MS.min),
              },
            },
            after: {
              [ETCH_MS.min]: { target: 'enough', actions: tell('nearing etch') },
            },
          },
          enough: {
            after: { [ETCH_MS.target - ETCH_MS.min]: { target: 'due', actions: tell('now etch') } },
          },
          due: {
            after: {
              [ETCH_MS.max - ETCH_MS.target]: { target: 'over', actions: tell('over etch') },
            },
          },
          over: {
            on: {
              [`rinse ${tooth}`]: {
                target: `#${tooth}.rinsing`,
                actions: ({ context }: { readonly context: Context }) =>
                  breach('over etch', tookMs(context) - ETCH_MS.max),
              },
            },
          },
        },
      },
      rinsing: {
        entry: begin,
        initial: 'early',
        on: { joint: 'done' },
        states: {
          early: {
            on: { joint: { target: `#${tooth}.done`, ...short('short rinse', RINSE_MS.min) } },
            after: {
              [RINSE_MS.target - NEARING_MS]: { target: 'enough', actions: tell('nearing rinse') },
            },
          },
          enough: { after: { [NEARING_MS]: { target: 'due', actions: tell('now rinse') } } },
          due: {},
        },
      },
      done: { type: 'final' as const },
    },
    id: tooth,
  };
}

/** A round of four teeth on its own clock, ready to be pressed. */
export function etchMachine() {
  const clock = handClock();
  const witness: Witness = { told: [], breaches: [] };
  const machine = setup({
    types: { context: {} as Context, events: {} as Event },
  }).createMachine({
    type: 'parallel',
    context: { startedMs: {} },
    states: Object.fromEntries(TEETH.map((t) => [t, region(t, clock, witness)])) as never,
  });
  const actor = createActor(machine, { clock: clock as never });
  actor.start();
  return {
    clock,
    witness,
    press: (event: Event) => actor.send(event),
    isDone: () => actor.getSnapshot().status === 'done',
  };
}

/** One press of the round, after a wait. */
export interface RoundPress {
  readonly waitMs: number;
  readonly event: Event['type'];
}

/** Which presses are legal: each tooth gel, then rinse, then all together once all are rinsing. */
export function legalPresses(done: readonly Event['type'][]): Event['type'][] {
  const gels = TEETH.filter((t) => !done.includes(`gel ${t}`)).map((t) => `gel ${t}` as const);
  const rinses = TEETH.filter((t) => done.includes(`gel ${t}`) && !done.includes(`rinse ${t}`));
  const joint = TEETH.every((t) => done.includes(`rinse ${t}`)) ? (['joint'] as const) : [];
  return [...gels, ...rinses.map((t) => `rinse ${t}` as const), ...joint];
}
