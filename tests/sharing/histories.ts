/**
 * Random histories of a clinic of three tablets: presses and facts, lines that are cut, answers that are lost,
 * stores that are put back, tablets that are switched off in the midst, messages that nobody signed. What
 * every tablet has at the end is known from what was acknowledged on each.
 */
import type { HubDisk } from '../../src/sync/memory-store.ts';
import { createMemoryDevice } from '../storage/memory-journal.ts';
import { type Clinic, clinic, paired, settled, type TabletParts, TestTablet } from './clinic.ts';

/** Numbers from a seed (mulberry32): the same ones each time. */
export function dice(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * below);
  };
}

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
  const roll = dice(seed);
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
  let saved = 0;
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
    () => {
      const { name } = one();
      hub.cut(name);
      return `${name} is cut off`;
    },
    () => {
      const { name } = one();
      hub.mend(name);
      return `${name} has a line`;
    },
    () => {
      const { name } = one();
      hub.loseAnswers(name, 1 + roll(5));
      return `answers to ${name} are lost`;
    },
    () => {
      const { name } = one();
      hub.loseMessages(name, 1 + roll(5));
      return `messages of ${name} are lost`;
    },
    () => {
      hub.deliverTimes(1 + roll(3));
      return 'times told';
    },
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
    () => {
      disks.push(hub.disk());
      saved += 1;
      return `disk ${saved} is kept`;
    },
    () => {
      const disk = disks[roll(disks.length)];
      if (disk !== undefined) hub.rollBack(disk);
      return 'an older disk';
    },
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
    () => {
      const messages = hub.messages(roll(2) === 0 ? 'F' : 'J');
      const found = messages[roll(messages.length)];
      if (found === undefined) return 'nothing';
      const data = new Uint8Array(found.data);
      data[data.length - 1] = (data[data.length - 1] ?? 0) ^ 1;
      hub.plant({ ...found, subject: roll(2) === 0 ? `${found.subject}0` : found.subject, data });
      return 'a message that nobody sealed';
    },
    () => new Promise((resolve) => setTimeout(() => resolve('a while'), roll(8))),
  ];
  const weights = [0, 0, 0, 0, 1, 1, 1, 2, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 13, 13];
  for (let step = 0; step < (o.steps ?? STEPS); step += 1) {
    const act = acts[weights[roll(weights.length)] ?? 0];
    if (act !== undefined) done.push(await act());
  }
  hub.mend();
  for (const name of NAMES) {
    hub.mend(name);
    hub.loseAnswers(name, 0);
    hub.loseMessages(name, 0);
  }
  hub.full(false);
  hub.tellStored(true);
  for (const tablet of tablets) tablet.engine.now();
  await settled(hub, tablets);
  // Whoever was last may have handed over what the others had read past.
  for (const tablet of tablets) tablet.engine.now();
  await settled(hub, tablets);
  return { cases, facts, tablets, clinic: of, done };
}

export { createMemoryDevice };
