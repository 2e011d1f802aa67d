/**
 * What happens to the homes of a tablet while it is off. One of the two is damaged, and only when the
 * other holds everything: then nothing may be lost.
 */
import { IDBFactory } from 'fake-indexeddb';
import { fieldsOf } from '../../src/base/json.ts';
import { parseEntry } from '../../src/storage/parse-stored.ts';
import type { Dice } from './dice.ts';
import {
  databaseHolds,
  documentsAgree,
  emptyStore,
  filesHold,
  holdsAll,
  putBack,
  rawRecords,
  type Snapshot,
  snapshotOf,
} from './disk.ts';
import type { Tablet } from './tablet.ts';

type Damage = (tablet: Tablet, dice: Dice) => boolean;

/** The keys of the entries of one case that is drawn, in order. */
function drawnCase(tablet: Tablet, dice: Dice) {
  const entries = [...(rawRecords(tablet, 'entries')?.values() ?? [])].flatMap(
    ({ value }) => parseEntry(value) ?? [],
  );
  const caseId = dice.of([...new Set(entries.map((entry) => entry.caseId))]);
  return entries.filter((entry) => entry.caseId === caseId);
}

/** Takes some entries of a case out; what lists the cases goes on counting them. */
function takeOut(tablet: Tablet, dice: Dice, from: (count: number) => readonly number[]): boolean {
  const entries = drawnCase(tablet, dice);
  const records = rawRecords(tablet, 'entries');
  if (entries.length < 3 || records === null) return false;
  for (const at of from(entries.length)) {
    const entry = entries[at];
    if (entry !== undefined) records.delete([entry.caseId, entry.seq]);
  }
  return true;
}

const kept = new WeakMap<Tablet, Snapshot>();

/** The database as it was at an earlier end, as after a copy was put back. */
function older(tablet: Tablet): boolean {
  const snapshot = kept.get(tablet);
  return snapshot !== undefined && putBack(tablet, snapshot);
}

const DATABASE: Readonly<Record<string, Damage>> = {
  'database gone': (tablet) => {
    tablet.idb = new IDBFactory();
    return true;
  },
  'database older': older,
  'database head cut': (tablet, dice) => takeOut(tablet, dice, () => [0, 1]),
  'database hole': (tablet, dice) => takeOut(tablet, dice, (n) => [dice.whole(1, n - 2)]),
  'database tail torn': (tablet, dice) => takeOut(tablet, dice, (n) => [n - 1]),
  'database flipped': (tablet, dice) => {
    const entry = dice.of(drawnCase(tablet, dice));
    if (entry === undefined) return false;
    const value = { ...entry, by: 'nobody' };
    rawRecords(tablet, 'entries')?.put({ key: [entry.caseId, entry.seq], value });
    return true;
  },
  'list of cases gone': (tablet) => emptyStore(tablet, 'cases'),
};

/** Changes one file that is drawn. */
function withFile(tablet: Tablet, dice: Dice, change: (bytes: Uint8Array) => Uint8Array): boolean {
  const name = dice.of([...tablet.files.keys()].sort());
  const bytes = tablet.files.get(name ?? '');
  if (name === undefined || bytes === undefined || bytes.length < 2) return false;
  tablet.files.set(name, change(bytes));
  return true;
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** The same lines in another order. */
function reordered(bytes: Uint8Array, dice: Dice): Uint8Array {
  const lines = decoder.decode(bytes).split('\n').slice(0, -1);
  for (let i = lines.length - 1; i > 0; i -= 1) {
    const j = dice.whole(0, i);
    [lines[i], lines[j]] = [lines[j] ?? '', lines[i] ?? ''];
  }
  return encoder.encode(lines.map((line) => `${line}\n`).join(''));
}

const FILES: Readonly<Record<string, Damage>> = {
  'files gone': (tablet) => {
    tablet.files.clear();
    return true;
  },
  'one file gone': (tablet, dice) => {
    const name = dice.of([...tablet.files.keys()].sort());
    return name !== undefined && tablet.files.delete(name);
  },
  'file tail torn': (tablet, dice) =>
    withFile(tablet, dice, (bytes) => bytes.slice(0, dice.whole(0, bytes.length - 1))),
  'file flipped': (tablet, dice) =>
    withFile(tablet, dice, (bytes) => {
      const at = dice.whole(0, bytes.length - 1);
      return bytes.map((byte, i) => (i === at ? byte ^ (1 << dice.whole(0, 7)) : byte));
    }),
  'file head cut': (tablet, dice) =>
    withFile(tablet, dice, (bytes) => bytes.slice(dice.whole(1, bytes.length - 1))),
  'file reordered': (tablet, dice) => withFile(tablet, dice, (bytes) => reordered(bytes, dice)),
};

/** Damages one home, when the other has everything; the name of what was done, or null. */
export function damage(
  tablet: Tablet,
  o: { readonly dice: Dice; readonly cases: ReadonlyMap<string, readonly string[]> },
): string | null {
  const { dice, cases } = o;
  if (dice.chance(0.3)) kept.set(tablet, snapshotOf(tablet));
  const isOfDatabase = dice.chance(0.5);
  const other = isOfDatabase ? filesHold(tablet) : databaseHolds(tablet);
  if (!holdsAll(other, cases) || !documentsAgree(tablet)) return null;
  const [name, strike] = dice.of(Object.entries(isOfDatabase ? DATABASE : FILES)) ?? ['', null];
  return strike?.(tablet, dice) === true ? name : null;
}

/** A power cut: what was said to be flushed and was not is gone, and the newest beats of the heart. */
export function cutPower(tablet: Tablet, dice: Dice): void {
  for (const [name, length] of tablet.flushedBytes) {
    const bytes = tablet.files.get(name);
    if (bytes !== undefined)
      tablet.files.set(name, bytes.slice(0, dice.whole(length, bytes.length)));
  }
  tablet.flushedBytes.clear();
  const beats = rawRecords(tablet, 'heartbeats');
  for (const { key, value } of [...(beats?.values() ?? [])]) {
    if (fieldsOf(value)['stamp'] !== undefined) beats?.delete(key);
  }
}
