/** A case of one tablet on another: looked on at, given, taken, taken over, and with two ends. */
import { beforeEach, describe, expect, it } from 'vitest';
import type { RecordSource } from '../../src/export/export-source.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { journalsIn } from '../../src/export/journals-json.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { casesFile } from '../../src/runtime/cases/cases-export.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import {
  carry,
  openedOn,
  pass,
  runningOn,
  settled,
  type TestTablet,
  tabletAt,
} from './two-tablets.ts';

let a: TestTablet;
let b: TestTablet;
let caseId: string;

beforeEach(async () => {
  a = await tabletAt({ name: 'Chair 1' });
  // A clock that was never set.
  b = await tabletAt({ name: 'Chair 2', wallAheadMs: -3 * 365 * 86_400_000 });
  caseId = await openedOn(a);
  a.session.pressNext();
  await pass(10_000, a, b);
  await carry(caseId, a, b);
});

const lookOnFromB = async () => {
  const resumed = await b.session.resumeCase(caseId);
  await settled();
  return resumed;
};

const giveToB = async () => {
  const given = await a.session.pens.give({ tablet: b.id, name: b.name });
  await settled();
  return given;
};

async function sourceOn(tablet: TestTablet): Promise<RecordSource> {
  const read = await tablet.session.readCase(caseId);
  if (!read.ok) throw new Error(read.error.code);
  const { log, reading, secondEnds = [] } = read.value;
  const { entries, apart, verdict } = reading;
  return { log, entries, apart, verification: verdict, secondEnds };
}

describe('a case that another tablet writes', () => {
  it('is read-only here, and its clocks stand where that tablet last said', async () => {
    expect(await lookOnFromB()).toMatchObject({ ok: true });
    const shown = runningOn(b);
    expect(shown).toMatchObject({ isViewOnly: true, isStale: true });
    const last = (await a.entriesOf(caseId)).at(-1)?.stamp;
    expect(shown.now).toEqual(last);
    b.session.pressNext();
    await pass(1000, b);
    expect((await b.entriesOf(caseId)).length).toBe((await a.entriesOf(caseId)).length);
  });

  it('shows each press as it arrives', async () => {
    await lookOnFromB();
    await pass(12_000, a, b);
    a.session.pressNext();
    await pass(500, a, b);
    await carry(caseId, a, b);
    expect(runningOn(b).log.records.at(-1)?.event.type).toBe('step-ended');
    expect(runningOn(b).isViewOnly).toBe(true);
  });

  it('is listed with who has it', async () => {
    await b.session.refreshLists();
    const summary = b.session.store.getState().cases.find((c) => c.caseId === caseId);
    expect(summary?.pen).toEqual({ tablet: a.id });
  });

  it('is not looked on at while a case of a patient runs here', async () => {
    await openedOn(b, 'another');
    expect(await lookOnFromB()).toMatchObject({ ok: false, error: { code: 'patient-runs' } });
  });
});

describe('a case that is given up', () => {
  it('is read along where it was, and written where it is taken', async () => {
    await lookOnFromB();
    expect(await giveToB()).toMatchObject({ ok: true });
    expect(runningOn(a).isViewOnly).toBe(true);
    await carry(caseId, a, b);
    expect(await b.session.pens.take({ caseId })).toMatchObject({ ok: true });
    await pass(2000, a, b);
    expect(runningOn(b).isViewOnly).toBe(false);
    b.session.pressNext();
    await pass(500, a, b);
    await carry(caseId, b, a);
    expect(runningOn(a).log.records.at(-1)?.event.type).toBe('step-ended');
    expect(runningOn(a).isViewOnly).toBe(true);
  });

  it('tells an interval that holds the truth, whatever the clock of the other tablet says', async () => {
    await lookOnFromB();
    await pass(2000, a, b);
    await giveToB();
    await carry(caseId, a, b);
    await pass(5000, a, b);
    await b.session.pens.take({ caseId });
    await pass(1000, b);
    b.session.setBy('dentist-a');
    // 10 s, 2 s, then 5 s since the entry came, rounded in favour of the truth, and 1 s.
    const clock = runningOn(b).view.clocks.find((c) => c.of === 'etch');
    expect(clock?.elapsed).toEqual({ loMs: 17_998, hiMs: Number.POSITIVE_INFINITY });
    const gap = runningOn(b).log.state.gaps.at(-1);
    expect(b.session.do({ do: 'settle-gap', gap: gap?.seq ?? -1, lengthMs: 5000 })).toBeNull();
    await pass(0, b);
    const said = runningOn(b).view.clocks.find((c) => c.of === 'etch');
    expect(said?.elapsed).toEqual({ loMs: 18_000, hiMs: 18_000 });
  });

  it('goes back to who gave it, as long as nobody took it', async () => {
    await giveToB();
    expect(await a.session.pens.take({ caseId })).toMatchObject({ ok: true });
    await pass(500, a);
    expect(runningOn(a).isViewOnly).toBe(false);
  });

  it('is not refused to a tablet that is heard of', async () => {
    await giveToB();
    await carry(caseId, a, b);
    b.hears(a.id, 1000);
    expect(await b.session.pens.take({ caseId })).toMatchObject({ ok: true });
  });
});

describe('a case of a tablet that is gone', () => {
  it('is not taken while that tablet is heard of', async () => {
    b.hears(a.id, 5000);
    const taken = await b.session.pens.take({ caseId, reason: 'we want to' });
    expect(taken).toMatchObject({ ok: false, error: { code: 'pen-is-held' } });
  });

  it('is taken with a reason, which the record tells', async () => {
    b.hears(a.id, 60_000);
    expect(await b.session.pens.take({ caseId })).toMatchObject({
      error: { code: 'reason-missing' },
    });
    const taken = await b.session.pens.take({ caseId, reason: 'its battery is empty' });
    expect(taken).toMatchObject({ ok: true });
    await pass(1000, b);
    const facts = recordFacts(await sourceOn(b));
    expect(facts.tablets).toMatchObject([
      { tablet: a.id, fromPress: 0, toPress: 1, taken: null },
      { tablet: b.id, fromPress: 2, taken: { from: 'gone', reason: 'its battery is empty' } },
    ]);
    expect(recordText(facts)).toContain('Reason: its battery is empty');
  });

  it('is taken when that tablet was put out', async () => {
    const { store } = b.session;
    b.hears(a.id, 1000);
    const { sharing } = store.getState();
    const tablets = sharing.tablets.map((t) => ({ ...t, standing: 'put-out' as const }));
    store.setState({ sharing: { ...sharing, tablets } });
    expect(await b.session.pens.take({ caseId, reason: 'put out' })).toMatchObject({ ok: true });
  });

  it('that comes back reads along once it has heard, when nothing was pressed there', async () => {
    await b.session.pens.take({ caseId, reason: 'silent' });
    await pass(500, b);
    await carry(caseId, b, a);
    expect(runningOn(a).isViewOnly).toBe(true);
    expect(runningOn(a).log.state.pen.holder).toBe(b.id);
  });
});

describe('two ends of a case', () => {
  /** B takes over, and both press on. */
  const fork = async () => {
    await b.session.pens.take({ caseId, reason: 'silent' });
    await pass(1000, a, b);
    b.session.pressNext();
    await pass(10_000, a, b);
    a.session.pressNext();
    await pass(500, a, b);
  };

  it('are both kept on both tablets, and the end that was taken over goes on in both records', async () => {
    await fork();
    await carry(caseId, a, b);
    await carry(caseId, b, a);
    const [onA, onB] = [await sourceOn(a), await sourceOn(b)];
    expect(onA.entries).toEqual(onB.entries);
    expect(onA.secondEnds?.map((e) => e.entries)).toEqual(onB.secondEnds?.map((e) => e.entries));
    const facts = recordFacts(onB);
    expect(facts.secondEnds).toMatchObject([
      { tablet: a.id, presses: 1, standing: 'left', pressed: [{ was: [{ type: 'step-ended' }] }] },
    ]);
    expect(recordText(facts)).toContain('A second end of 1 press is kept apart');
    expect(stepsCsv(facts).split('\r\n')[0]).toContain('presses_kept_apart');
    expect(stepsCsv(facts).split('\r\n')[1]).toMatch(/,1,Chair 1,1,[^,]+,[^,]+$/);
  });

  it('stop nobody who presses: both tablets are told at the chair', async () => {
    await fork();
    await carry(caseId, a, b);
    await carry(caseId, b, a);
    expect(runningOn(a).isViewOnly).toBe(false);
    expect(a.session.store.getState().secondEnds).toMatchObject([{ caseId, hasPen: true }]);
    expect(b.session.store.getState().secondEnds).toMatchObject([{ caseId, hasPen: false }]);
    // Whoever goes away and comes back reads the end that goes on.
    a.session.leaveCase();
    await a.session.resumeCase(caseId);
    expect(runningOn(a).isViewOnly).toBe(true);
    expect(runningOn(a).log.state.pen.holder).toBe(b.id);
  });

  it('are kept once, however often they arrive, and grow', async () => {
    await fork();
    await carry(caseId, a, b);
    await carry(caseId, a, b);
    await pass(1000, a);
    expect(a.session.do({ do: 'note', words: 'pressed on' })).toBeNull();
    await pass(500, a);
    await carry(caseId, a, b);
    expect(b.session.store.getState().secondEnds).toMatchObject([{ presses: 2 }]);
  });

  it('travel in the file of the journal, which is read back', async () => {
    await fork();
    await carry(caseId, a, b);
    const { entries, apart = [], secondEnds = [] } = await sourceOn(b);
    const text = journalJson({ caseId, entries, apart, secondEnds });
    const read = parseJournal(text, { verify: verifyChain });
    expect(read).toMatchObject({ ok: true, value: { problems: [], secondEnds } });
    expect(JSON.parse(text)).toMatchObject({ secondEnds: [{ tablet: a.id, name: 'Chair 1' }] });
  });

  it('travel in a file of many cases too', async () => {
    await fork();
    await carry(caseId, a, b);
    const { journal } = b;
    const made = await casesFile({
      journal,
      caseIds: [caseId],
      day: '2026-11-27',
      onProgress: () => undefined,
    });
    const found = journalsIn(await new Response(made.file.content).text());
    const read = parseJournal(found?.journals[0]?.text ?? '', { verify: verifyChain });
    const ends = read.ok ? read.value.secondEnds : [];
    expect(ends).toMatchObject([{ tablet: a.id, name: 'Chair 1', entries: [{ caseId }] }]);
  });

  it('may go on in the first end, which then names what it leaves', async () => {
    await fork();
    await carry(caseId, b, a);
    a.session.leaveCase();
    await a.session.resumeCase(caseId);
    a.hears(b.id, 60_000);
    const taken = await a.session.pens.take({ caseId, reason: 'Chair 2 fell down' });
    expect(taken).toMatchObject({ ok: true });
    await pass(500, a);
    expect(runningOn(a).isViewOnly).toBe(false);
    await carry(caseId, a, b);
    const [onA, onB] = [await sourceOn(a), await sourceOn(b)];
    expect(onA.entries).toEqual(onB.entries);
    expect(onA.log.state.pen.holder).toBe(a.id);
  });
});

describe('a press that meets the taking', () => {
  it('is kept apart, not lost, when it was not stored yet', async () => {
    await b.session.pens.take({ caseId, reason: 'silent' });
    await pass(500, b);
    const { journal } = a;
    const append = journal.append.bind(journal);
    // The journal of A is slow: what B pressed stands there first.
    journal.append = async (batch) => {
      await carryNow();
      journal.append = append;
      return append(batch);
    };
    const carryNow = async () => {
      const entries = await b.entriesOf(caseId);
      await journal.adopt({ caseId, epoch: a.epoch(), entries });
      a.bring({ type: 'entries', caseId, entries });
    };
    a.session.do({ do: 'note', words: 'pressed in the same moment' });
    await settled();
    await pass(1000, a);
    expect(runningOn(a).isViewOnly).toBe(true);
    const { secondEnds = [] } = await sourceOn(a);
    expect(JSON.stringify(secondEnds)).toContain('pressed in the same moment');
  });
});

describe('a note to a signed case of another tablet', () => {
  it('takes the pen, so that both chains stay one', async () => {
    await pass(12_000, a, b);
    a.session.pressNext();
    await pass(500, a);
    a.session.pressNext();
    await pass(500, a);
    a.session.pressNext();
    await pass(500, a);
    expect(runningOn(a).log.state.closed).not.toBeNull();
    await carry(caseId, a, b);
    const by = 'dentist-a';
    const added = await b.session.casesList.addNote({ caseId, words: 'seen again', by });
    expect(added).toMatchObject({ ok: true });
    await carry(caseId, b, a);
    const types = (await a.entriesOf(caseId)).slice(-2).map((e) => e.event.type);
    expect(types).toEqual(['pen-taken', 'note-added']);
  });
});
