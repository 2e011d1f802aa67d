/** A log of the desk that was cut at its end: the chain still fits, the head that was kept of it knows more. */
import { beforeEach, describe, expect, it } from 'vitest';
import { anchorHeads } from '../../src/runtime/anchors/heads.ts';
import { appendLeadLog, readLeadLogs } from '../../src/runtime/lead/lead-log.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

type Test = Awaited<ReturnType<typeof writing>>;
let test: Test;

async function writing() {
  const journal = createMemoryJournal(createMemoryDevice());
  await journal.open();
  const begun = await journal.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  const { epoch } = begun.value;
  const value = { tablet: 'tablet-1' };
  await journal.documents.put({ kind: 'settings', id: 'this-tablet', value, epoch });
  return { journal, epoch };
}

const append = (deed: 'opened' | 'closed' | 'break-noted', values = {}) =>
  appendLeadLog(test.journal, { epoch: test.epoch, atWallMs: 1, by: 'A. Lead', deed, values });

async function log() {
  const read = await readLeadLogs(test.journal);
  if (!read.ok) throw new Error(read.error.code);
  const { entries, broken, isOpenBreak } = read.value.log;
  return { seqs: entries.map(({ seq }) => seq), broken, isOpenBreak };
}

/** Takes the last entries away, as somebody would who wants them forgotten. */
async function cut(count: number): Promise<void> {
  const listed = await test.journal.documents.list('fact-lead-log');
  if (!listed.ok) throw new Error(listed.error.code);
  const seqOf = (value: unknown) => (value as { said: { seq: number } }).said.seq;
  const last = listed.value.toSorted((a, b) => seqOf(b.value) - seqOf(a.value)).slice(0, count);
  for (const { kind, id } of last) {
    await test.journal.documents.put({ kind, id, value: null, epoch: test.epoch });
  }
}

beforeEach(async () => {
  test = await writing();
  for (const deed of ['opened', 'closed', 'opened', 'closed'] as const) await append(deed);
  const { journal, epoch } = test;
  await anchorHeads({ journal, crypto: null, keys: null, epoch, nowWallMs: 1 });
});

describe('the log of the desk', () => {
  it('is whole while nothing was taken away, and while it grows', async () => {
    expect(await log()).toEqual({ seqs: [0, 1, 2, 3], broken: 0, isOpenBreak: false });
    await append('opened');
    expect(await log()).toEqual({ seqs: [0, 1, 2, 3, 4], broken: 0, isOpenBreak: false });
  });

  it('tells what was cut off its end, and goes on once the lead has noted it', async () => {
    await cut(2);
    expect(await log()).toEqual({ seqs: [0, 1], broken: 2, isOpenBreak: true });
    await append('break-noted', { broken: 2 });
    expect(await log()).toEqual({ seqs: [0, 1, 4], broken: 2, isOpenBreak: false });
    await append('opened');
    expect(await log()).toEqual({ seqs: [0, 1, 4, 5], broken: 2, isOpenBreak: false });
  });
});
