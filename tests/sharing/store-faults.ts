/**
 * What goes wrong with a clinic's store, by name: lines that are cut, answers that are lost, older disks, and
 * messages that nobody of the clinic sealed or signed. Histories and the simulator draw from it.
 */
import type { HubDisk, MemoryHub } from '../../src/sync/memory-store.ts';
import type { Dice } from '../simulate/dice.ts';

export interface StoreTrouble {
  readonly hub: MemoryHub;
  readonly dice: Dice;
  /** The tablet that it falls on. */
  readonly device: string;
  /** Disks that were kept. */
  readonly disks: HubDisk[];
}

/** False where there was nothing to do it to. */
type Strike = (at: StoreTrouble) => boolean;

const done = (_: unknown): true => true;

/** A message of the store that is drawn, written there once more in another form. */
function planted(
  { hub, dice }: StoreTrouble,
  change: (o: { readonly subject: string; readonly data: Uint8Array<ArrayBuffer> }) => {
    readonly subject: string;
    readonly data: Uint8Array<ArrayBuffer>;
  },
): boolean {
  const stream = dice.of(['F', 'J', 'J', 'K'] as const) ?? 'J';
  const found = dice.of(hub.messages(stream));
  if (found === undefined) return false;
  const { subject, data } = found;
  return done(hub.plant({ stream, ...change({ subject, data: new Uint8Array(data) }) }));
}

/** Another item, or another number, in the name of a message. */
function moved(subject: string, dice: Dice, others: readonly string[]): string {
  const parts = subject.split('.');
  const at = dice.chance(0.5) ? 3 : 2;
  const other = (dice.of(others) ?? '').split('.')[at];
  if (other !== undefined && other !== parts[at]) parts[at] = other;
  else parts[4] = String(Number(parts[4] ?? 0) + 1);
  return parts.join('.');
}

export const STORE_FAULTS = {
  'cut off': ({ hub, device }) => done(hub.cut(device)),
  'everybody cut off': ({ hub }) => done(hub.cut()),
  'answers lost': ({ hub, device, dice }) => done(hub.loseAnswers(device, dice.whole(1, 5))),
  'messages lost': ({ hub, device, dice }) => done(hub.loseMessages(device, dice.whole(1, 5))),
  'told more than once': ({ hub, dice }) => done(hub.deliverTimes(dice.whole(1, 3))),
  'nobody told': ({ hub }) => done(hub.tellStored(false)),
  'store full': ({ hub }) => done(hub.full(true)),
  'disk kept': ({ hub, disks }) => done(disks.push(hub.disk())),
  'older disk': ({ hub, disks, dice }) => {
    const disk = dice.of(disks);
    return disk !== undefined && done(hub.rollBack(disk));
  },
  'message tampered with': (at) =>
    planted(at, ({ subject, data }) => {
      const where = at.dice.chance(0.5) ? data.length - 1 : at.dice.whole(0, data.length - 1);
      data[where] = (data[where] ?? 0) ^ (1 << at.dice.whole(0, 7));
      return { subject: at.dice.chance(0.5) ? `${subject}0` : subject, data };
    }),
  'message moved': (at) =>
    planted(at, ({ subject, data }) => {
      const others = at.hub.messages('J').map((message) => message.subject);
      return { subject: moved(subject, at.dice, others), data };
    }),
  'message replayed': (at) => planted(at, (message) => message),
} as const satisfies Readonly<Record<string, Strike>>;

export type StoreFaultName = keyof typeof STORE_FAULTS;

/** Every line is whole, and the store takes what comes. */
export function mendStore(hub: MemoryHub, devices: readonly string[]): void {
  hub.mend();
  for (const device of devices) {
    hub.mend(device);
    hub.loseAnswers(device, 0);
    hub.loseMessages(device, 0);
  }
  hub.full(false);
  hub.tellStored(true);
  hub.deliverTimes(1);
}
