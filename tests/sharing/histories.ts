/**
 * Random histories of a clinic of three tablets: presses and facts, lines that are cut, answers that are lost,
 * stores that are put back, tablets that are switched off in the midst, messages that nobody signed. What
 * every tablet has at the end is known from what was acknowledged on each.
 */
import type { HubDisk } from '../../src/sync/memory-store.ts';
import { Dice } from '../simulate/dice.ts';
import { type Clinic, clinic, paired, settled, type TabletParts, TestTablet } from './clinic.ts';
import { mendStore, STORE_FAULTS, type StoreFaultName } from './store-faults.ts';

const NAMES = ['a', 'b', 'c'];
const STEPS = 30;
const DAY_MS = 86_400_000;

/** Presence and the minutely reading are not what a history is about; waits are short. */
const lag = (ms: number): number =>
  ms === 2000 ? 3_600_000 : ms === 60_000 ? 200 : Math.min(ms, 2);

export interface Ended {
  readonly cases: ReadonlyMap<string, readonly string[]>;
  readonly facts: ReadonlySet<string>;
  readonly tablets: readonly TestTablet[];
  readonly clinic: Clinic;
  readonly done: readonly string[];
}

/** Plays one history to its end, when all lines are whole again and everything was shared. */
export async function playHistory(
  seed: number,
  o: { readonly steps?: number } = {},
): Promise<Ended> {
  const dice = new Dice(seed);
  const roll = (below: number): number => dice.whole(0, below - 1);
  const of = await clinic();
  const { hub } = of;
  const parts: TabletParts[] = [];
  for (const name of NAMES) parts.push(await paired(of, name));
  const tablets: TestTablet[] = [];
  for (const each of parts) tablets.push(await new TestTablet(of, each, { lag }).on());
  const cases = new Map<string, readonly string[]>();
  const facts = new Set<string>();
  const done: string[] = [];
  const disks: HubDisk[] = [];
  const strike = (name: StoreFaultName) => () => {
    const device = one().name;
    const isDone = STORE_FAULTS[name]({ hub, dice, disks, device });
    return isDone ? `${name} (${device})` : 'nothing';
  };
  const one = (): TestTablet => {
    const found = tablets[roll(tablets.length)];
    if (found === undefined) throw new Error('a tablet');
    return found;
  };
  const acts: readonly (() => Promise<string> | string)[] = [
    async () => {
      const tablet = one();
      const caseId = `${tablet.name}-${roll(3)}`;
      await tablet.press(caseId, 1 + roll(4));
      cases.set(caseId, await tablet.entries(caseId));
      return `${tablet.name} presses ${caseId}`;
    },
    async () => {
      const tablet = one();
      const said = await tablet.say('material', `box-${roll(3)}`, { type: 'recalled', n: roll(9) });
      for (const { id } of said) facts.add(id);
      return `${tablet.name} says`;
    },
    strike('cut off'),
    () => {
      const { name } = one();
      hub.mend(name);
      return `${name} has a line`;
    },
    strike('answers lost'),
    strike('messages lost'),
    strike('told more than once'),
    () => {
      const isTold = roll(2) === 0;
      hub.tellStored(isTold);
      return `told: ${isTold}`;
    },
    () => {
      const isFull = roll(3) === 0;
      hub.full(isFull);
      return `full: ${isFull}`;
    },
    strike('disk kept'),
    strike('older disk'),
    async () => {
      const at = roll(tablets.length);
      const old = tablets[at];
      const kept = parts[at];
      if (old === undefined || kept === undefined) return 'nothing';
      await old.off();
      const again = new TestTablet(of, kept, { lag });
      again.nowMs = old.nowMs + (roll(2000) - 1000) * DAY_MS;
      tablets[at] = await again.on();
      return `${old.name} is switched off and on, with another clock`;
    },
    strike('message tampered with'),
    strike('message moved'),
    strike('message replayed'),
    () => new Promise((resolve) => setTimeout(() => resolve('a while'), roll(8))),
  ];
  const weights = [0, 0, 0, 0, 1, 1, 1, 2, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 15, 15];
  for (let step = 0; step < (o.steps ?? STEPS); step += 1) {
    const act = acts[weights[roll(weights.length)] ?? 0];
    if (act !== undefined) done.push(await act());
  }
  mendStore(hub, NAMES);
  for (const tablet of tablets) tablet.engine.now();
  await settled(hub, tablets);
  // Whoever was last may have handed over what the others had read past.
  for (const tablet of tablets) tablet.engine.now();
  await settled(hub, tablets);
  return { cases, facts, tablets, clinic: of, done };
}
