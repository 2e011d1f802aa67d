/** What a well-chained journal tells that cannot have happened: a finding each, with the place in the file. */
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { cannotBe } from '../../src/engine/cannot-be.ts';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import type { CaseEvent, Recorded } from '../../src/engine/types.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { entriesOf, finished, followed } from './journals.ts';

const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
  at 1 s   confirm ready case
  at 5 s   start etch 11
  at 25 s  end etch 11
`);
const { records } = chair.log;

/** The same journal with one more event at its end, chained anew. */
const withMore = (event: CaseEvent, o: { readonly monoByMs?: number } = {}): CaseLog => {
  const last = records.at(-1);
  if (last === undefined) throw new Error('no entries');
  const stamp = {
    ...last.stamp,
    monoMs: last.stamp.monoMs + (o.monoByMs ?? 1),
  } as Recorded['stamp'];
  return replay([...records, { ...last, seq: last.seq + 1, press: last.press + 1, stamp, event }]);
};

async function record(log: CaseLog) {
  const text = journalJson({ caseId: 'case-1', entries: entriesOf(log.records) });
  const [out, errors]: [string[], string[]] = [[], []];
  const code = await main(['record', 'x.json', '--as', 'csv-steps'], {
    readFile: async () => text,
    stdout: (words) => out.push(words),
    stderr: (words) => errors.push(words),
  });
  return { code, hasRecord: out.join('').length > 0, errors: errors.join('') };
}

describe('the record verb', () => {
  it.each([
    [
      'an end without a start',
      withMore({ type: 'step-ended', step: 'etch', subjects: ['tooth:21'] }),
      'journal.entries[5].event: expected a start of etch on tooth:21 before its end, got step-ended\n',
    ],
    [
      'a step that is confirmed twice',
      withMore({ type: 'step-confirmed', step: 'ready', subjects: ['case'] }),
      'journal.entries[5].event: expected ready on case to be done once, got step-confirmed, though it was done before\n',
    ],
    [
      'a step that is ended twice',
      withMore({ type: 'step-ended', step: 'etch', subjects: ['tooth:11'] }),
      'journal.entries[5].event: expected etch on tooth:11 to be done once, got step-ended, though it was done before\n',
    ],
    [
      'a step that is begun twice',
      withMore({ type: 'step-started', step: 'etch', subjects: ['tooth:11'] }),
      'journal.entries[5].event: expected etch on tooth:11 to be done once, got step-started, though it was done before\n',
    ],
    [
      'light that goes off and was never on',
      withMore({
        type: 'exposure-stopped',
        step: 'etch',
        subject: 'tooth:11',
        surface: 'facial',
        position: 1,
      }),
      'journal.entries[5].event: expected light on tooth:11 before it goes off, got exposure-stopped\n',
    ],
    [
      'a pass of light that is stopped and was never begun',
      withMore({ type: 'light-pass-stopped', step: 'etch' }),
      'journal.entries[5].event: expected a pass of light of etch before its end, got light-pass-stopped\n',
    ],
    [
      'a pass of light that is confirmed and was never begun',
      withMore({ type: 'light-pass-confirmed', step: 'etch', places: [] }),
      'journal.entries[5].event: expected a pass of light of etch before its end, got light-pass-confirmed\n',
    ],
    [
      'a monotonic clock that runs backwards',
      withMore({ type: 'cue-acknowledged', cue: 'x' }, { monoByMs: -500 }),
      'journal.entries[5].stamp.monoMs: expected at least 25000, as its clock said before, got 24500\n',
    ],
  ])('finds %s, writes what there is and exits with 1', async (_, log, errors) => {
    expect(await record(log)).toEqual({ code: 1, hasRecord: true, errors });
  });

  it('says each of several in a line of its own', async () => {
    const log = withMore(
      { type: 'step-confirmed', step: 'ready', subjects: ['case'] },
      { monoByMs: -1 },
    );
    const { code, errors } = await record(log);
    expect(code).toBe(1);
    expect(errors.trimEnd().split('\n')).toHaveLength(2);
  });

  it('finds nothing in what was taken back or in a run of another clock', async () => {
    const twice = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
      at 1 s  confirm ready case
      at 2 s  undo
      at 3 s  confirm ready case
    `);
    twice.rows('reload 5 s');
    twice.rows('at 20 s start etch 11\nat 40 s end etch 11');
    expect(await record(twice.log)).toEqual({ code: 0, hasRecord: true, errors: '' });
  });
});

describe('what the app itself writes', () => {
  it('is nothing that cannot be, in whole cases', () => {
    for (const log of [
      finished().log,
      followed('two-veneers').log,
      followed('onlay-and-crown').log,
    ]) {
      expect(cannotBe(log)).toEqual([]);
    }
  });
});
