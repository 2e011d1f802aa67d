/**
 * One broken promise for each invariant, to see that the simulator finds it out. None of them is used
 * but by the test of the simulator itself.
 */
import type { CaseLog } from '../../src/engine/log.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { SoundStatus } from '../../src/runtime/sound/audio.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import type { AppendBatch, Journal } from '../../src/storage/journal-types.ts';
import { parseEntry } from '../../src/storage/parse-stored.ts';
import { type ClinicSpoil, shortened, skipping } from './clinic-spoil.ts';
import { rawRecords } from './disk.ts';
import type { Invariant } from './invariants.ts';
import type { Page } from './page.ts';
import type { Tablet } from './tablet.ts';

export interface Spoil {
  readonly journal?: (journal: Journal, tablet: Tablet) => Journal;
  /** What the people are shown. */
  readonly picture?: (running: RunningCase, page: Page) => RunningCase;
  /** What the page holds when it dies. */
  readonly log?: (log: CaseLog) => CaseLog;
  /** What an export writes. */
  readonly text?: (text: string) => string;
  /** What an export writes of a journal of the first format. */
  readonly oldText?: (text: string) => string;
  /** What is said of sound. */
  readonly sound?: (state: SoundStatus['state']) => SoundStatus['state'];
  /** What happens to the homes of a tablet whose pages are closed. */
  readonly homes?: (tablet: Tablet) => void;
  /** What happens to the store of a clinic, and to what it is told. */
  readonly clinic?: ClinicSpoil;
}

/** A journal with another way to append. */
function appending(
  journal: Journal,
  append: (batch: AppendBatch) => ReturnType<Journal['append']>,
): Journal {
  return new Proxy(journal, {
    get(target, key) {
      if (key === 'append') return append;
      const value: unknown = Reflect.get(target, key);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

const isClosing = ({ recorded }: AppendBatch): boolean =>
  recorded.some(({ event }) => event.type === 'case-closed');

/** Says that it stored the signature, and did not. */
function forgetful(journal: Journal): Journal {
  return appending(journal, async (batch) => {
    if (!isClosing(batch)) return journal.append(batch);
    const { caseId, epoch, recorded } = batch;
    const entries = chainEntries(recorded, { caseId, epoch, prev: NO_ENTRY_HASH });
    return { ok: true, value: { entries, copies: 2 } };
  });
}

/** Writes another name under the signature. */
function forging(journal: Journal): Journal {
  return appending(journal, (batch) => {
    if (!isClosing(batch)) return journal.append(batch);
    return journal.append({
      ...batch,
      recorded: batch.recorded.map((entry) => ({ ...entry, by: 'somebody else' })),
    });
  });
}

const newest = new WeakMap<Tablet, number>();

/** Lets a window that lost its seat write on with the epoch of its successor. */
function unfenced(journal: Journal, tablet: Tablet): Journal {
  return new Proxy(journal, {
    get(target, key) {
      if (key === 'startWriting') {
        return async () => {
          const before = newest.get(tablet);
          const begun = await target.startWriting();
          if (begun.ok && before === undefined) newest.set(tablet, begun.value.epoch);
          return begun;
        };
      }
      if (key === 'append') {
        return async (batch: AppendBatch) => {
          const stored = await target.append(batch);
          const epoch = newest.get(tablet) ?? batch.epoch;
          if (!stored.ok) return stored;
          const entries = stored.value.entries.map((entry) => ({ ...entry, epoch }));
          return { ok: true, value: { ...stored.value, entries } };
        };
      }
      const value: unknown = Reflect.get(target, key);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

const withClocks = (running: RunningCase, change: (ms: number) => number): RunningCase => ({
  ...running,
  view: {
    ...running.view,
    clocks: running.view.clocks.map((clock) => ({
      ...clock,
      elapsed: {
        ...clock.elapsed,
        loMs: change(clock.elapsed.loMs) as typeof clock.elapsed.loMs,
        hiMs: change(clock.elapsed.hiMs) as typeof clock.elapsed.hiMs,
      },
    })),
  },
});

/** Changes the first entry of every case, and leaves no file to mend it from. */
function flipBoth(tablet: Tablet): void {
  tablet.files.clear();
  const records = rawRecords(tablet, 'entries');
  for (const record of [...(records?.values() ?? [])]) {
    const entry = parseEntry(record.value);
    if (entry?.seq === 2) records?.put({ key: record.key, value: { ...entry, by: 'nobody' } });
  }
}

const pressedAlone = new WeakSet<Page>();

/** Presses by itself when the time is up. */
function pressAlone(running: RunningCase, page: Page): RunningCase {
  if (page.realNowMs() > 10_000 && !pressedAlone.has(page)) {
    pressedAlone.add(page);
    page.tablet.loop.after(100, () => page.session.pressNext(), page);
  }
  return running;
}

interface Named {
  readonly invariant: Invariant;
  readonly spoil: Spoil;
}

export const SPOILS: Readonly<Record<string, Named>> = {
  'a clock that runs at four fifths': {
    invariant: 'I1',
    spoil: { picture: (running) => withClocks(running, (ms) => ms * 0.8) },
  },
  'clocks that are not shown': {
    invariant: 'I2',
    spoil: {
      picture: (running) => ({
        ...running,
        view: { ...running.view, clocks: running.view.clocks.filter((c) => c.kind !== 'dwell') },
      }),
    },
  },
  'an alarm that never comes': {
    invariant: 'I3',
    spoil: {
      picture: (running) => ({
        ...running,
        view: { ...running.view, cues: running.view.cues.filter((c) => c.kind !== 'over') },
      }),
    },
  },
  'a signature that is acknowledged and not stored': {
    invariant: 'I4',
    spoil: { journal: forgetful },
  },
  'another name under the signature': { invariant: 'I5', spoil: { journal: forging } },
  'a state that is not that of its log': {
    invariant: 'I5',
    spoil: {
      log: (log) => ({ ...log, state: { ...log.state, tonesHeard: !log.state.tonesHeard } }),
    },
  },
  'two windows that write with one epoch': { invariant: 'I7', spoil: { journal: unfenced } },
  'a press that nobody made': { invariant: 'I8', spoil: { picture: pressAlone } },
  'a step that is done by itself': {
    invariant: 'I8',
    spoil: {
      picture: (running, page) => {
        const { view } = running;
        if (page.realNowMs() < 20_000) return running;
        return { ...running, view: { ...view, done: view.done + 1 } };
      },
    },
  },
  'sound that is claimed': { invariant: 'I9', spoil: { sound: () => 'on' } },
  'an entry flipped in one home and lost in the other': {
    invariant: 'I6',
    spoil: { homes: flipBoth },
  },
  'an old journal with another end of line': {
    invariant: 'I11',
    spoil: { oldText: (text) => text.replaceAll('\n', '\r\n') },
  },
  'an export that is another the second time': {
    invariant: 'I10',
    spoil: { text: (text) => `${text} ` },
  },
  'an undo that takes more than one press back': {
    invariant: 'I12',
    spoil: {
      picture: (running) => {
        const { log } = running;
        if (log.records.at(-1)?.event.type !== 'press-retracted') return running;
        return { ...running, log: { ...log, state: { ...log.state, breaches: [], runs: {} } } };
      },
    },
  },
};

/** A press waits for a way to somewhere else and back. */
const waiting = (journal: Journal, tablet: Tablet): Journal =>
  appending(journal, async (batch) => {
    const stored = await journal.append(batch);
    await new Promise<void>((resolve) => {
      tablet.loop.after(40, resolve);
    });
    return stored;
  });

/** The same of what the tablets of a clinic share. */
export const CLINIC_SPOILS: Readonly<Record<string, Named>> = {
  'messages that a tablet skips as it reads': {
    invariant: 'I13',
    spoil: { clinic: { store: skipping, only: ['told more than once'] } },
  },
  'a last entry that every tablet forgets': {
    invariant: 'I14',
    spoil: { clinic: { shown: shortened, only: ['answers lost'] } },
  },
  'signatures that nobody checks': {
    invariant: 'I15',
    spoil: { clinic: { isEverySignatureGood: true, only: ['forged message'] } },
  },
  'a tablet that is put out and nobody says so': {
    invariant: 'I15',
    spoil: { clinic: { isPutOutUnsaid: true, only: ['put out', 'late message'] } },
  },
  'a press that waits for the store': { invariant: 'I16', spoil: { journal: waiting } },
};
