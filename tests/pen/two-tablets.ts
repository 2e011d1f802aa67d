/** Two tablets of a clinic, each with a journal, a session and clocks of its own; entries are carried by hand. */
import { SECOND_END } from '../../src/runtime/cases/second-end-kind.ts';
import { keepSecondEnd } from '../../src/runtime/cases/second-ends.ts';
import type { Session } from '../../src/runtime/session.ts';
import type { CaseOpening } from '../../src/runtime/session-parts.ts';
import { NOT_SHARING, type TabletRow } from '../../src/runtime/sharing/sharing-state.ts';
import type { Journal, JournalEntry, JournalNews } from '../../src/storage/journal-types.ts';
import { confirm, dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { type FakeTime, fakeTime, settle } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

export const etch = protocolOf([
  step('etch', 'tooth', dwell(15, 20, 30)),
  step('ready', 'case', confirm, { after: ['etch'] }),
]);
export const { spec } = settingOf(etch, ['11']);
const approval = { hash: 'h', by: 'lead', onWallMs: 0 };
export const draft: NonNullable<CaseOpening['draft']> = {
  protocol: etch,
  hash: 'h',
  origin: 'own',
  approval,
};

const START_MS = Date.UTC(2026, 10, 27, 9);

export interface TestTablet {
  readonly id: string;
  readonly name: string;
  readonly journal: Journal;
  readonly session: Session;
  readonly epoch: () => number;
  readonly bring: (news: JournalNews) => void;
  readonly time: FakeTime;
  /** Says of another tablet when it was heard of, in ms before now; null: never. */
  hears(other: string, agoMs: number | null): void;
  entriesOf(caseId: string): Promise<readonly JournalEntry[]>;
}

/** A tablet of a clinic of several, its wall clock so far ahead. */
export async function tabletAt(o: {
  readonly name: string;
  readonly wallAheadMs?: number;
}): Promise<TestTablet> {
  const { name, wallAheadMs = 0 } = o;
  const device = createMemoryDevice();
  const journal = createMemoryJournal(device);
  // What came from other tablets is told to this window like the word of another one.
  const heard = new Set<(news: JournalNews) => void>();
  journal.subscribe = (listener) => {
    heard.add(listener);
    return () => heard.delete(listener);
  };
  const time = fakeTime({ wallMs: START_MS + wallAheadMs });
  const session = quietSession({ journal, protocols: [], cases: [], time, run: `${name}-` });
  await session.start();
  const { store } = session;
  const id = store.getState().settings.tablet;
  // What the lead said of the tablets makes it one of several.
  const { epoch } = device;
  await journal.documents.put({ kind: 'fact-tablet', id: 'paired', value: { name }, epoch });
  store.setState({ sharing: { ...NOT_SHARING, standing: 'paired', name, line: 'open' } });
  return {
    id,
    name,
    journal,
    session,
    epoch: () => device.epoch,
    bring: (news) => {
      for (const listener of heard) listener(news);
    },
    time,
    hears(other, agoMs) {
      const { sharing } = store.getState();
      const nowMs = time.clock.stamp().wallMs;
      const row: TabletRow = {
        device: `device of ${other}`,
        tablet: other,
        name: other,
        isThis: false,
        standing: 'paired',
        lastContactWallMs: agoMs === null ? null : nowMs - agoMs,
        owes: null,
        runs: null,
      };
      const tablets = [...sharing.tablets.filter((t) => t.device !== other), row];
      store.setState({ sharing: { ...sharing, tablets } });
    },
    async entriesOf(caseId) {
      const read = await journal.read(caseId);
      return read.ok ? read.value.entries : [];
    },
  };
}

/** Lets so much time pass on both. */
export async function pass(ms: number, ...tablets: readonly TestTablet[]): Promise<void> {
  for (const { time } of tablets) time.pass(ms);
  await settled();
}

/** Lets what was begun run its course: code that is loaded when it is wanted among it. */
export async function settled(): Promise<void> {
  for (let i = 0; i < 5; i += 1) {
    await new Promise((resolve) => setTimeout(resolve, 0));
    await settle();
  }
}

/**
 * Carries all that one tablet has of a case to another, as the store does: what follows is adopted, what does not is
 * kept apart.
 */
export async function carry(caseId: string, from: TestTablet, to: TestTablet): Promise<void> {
  const entries = await from.entriesOf(caseId);
  const adopted = await to.journal.adopt({ caseId, epoch: to.epoch(), entries });
  if (!adopted.ok) {
    const known = await to.entriesOf(caseId);
    const at = entries.findIndex(({ seq, hash }) => known[seq]?.hash !== hash);
    const end = { caseId, tablet: from.id, name: from.name, entries: entries.slice(at) };
    const kept = await keepSecondEnd({ journal: to.journal, epoch: to.epoch() }, end);
    if (!kept.ok) throw new Error(kept.error.code);
    to.bring({ type: 'document', kind: SECOND_END, id: caseId });
  } else {
    const fresh = entries.slice(entries.length - adopted.value.added);
    if (fresh.length > 0) to.bring({ type: 'entries', caseId, entries: fresh });
  }
  await settled();
}

/** A patient's case that was opened on this tablet. */
export async function openedOn(tablet: TestTablet, id = spec.id): Promise<string> {
  const opened = await tablet.session.openCase({
    spec: { ...spec, id },
    mode: 'patient',
    speed: 1,
    draft,
  });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  await settled();
  return opened.value;
}

export function runningOn({ session }: TestTablet) {
  const { running } = session.store.getState();
  if (running === null) throw new Error('no case is shown');
  return running;
}
