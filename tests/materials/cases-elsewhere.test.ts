/** Cases whose entries lie on the clinic's store alone: in the list, in searches, named by a backup. */
import { describe, expect, it } from 'vitest';
import { CasesList, notExported } from '../../src/runtime/cases/cases-list.ts';
import { caseFinder, casesWithLot, NO_FILTER } from '../../src/runtime/cases/cases-list-facts.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';
import { manualClock } from '../runtime/manual-clock.ts';
import { opening } from '../storage/sample-case.ts';
import { CASE_LINE } from './case-line.ts';

describe('a case that lies elsewhere', () => {
  async function list(elsewhere: readonly (typeof CASE_LINE)[]) {
    const { journal, epoch } = await emptyJournal();
    must(await journal.append({ caseId: 'here', epoch, recorded: [opening('here')] }));
    const casesList = new CasesList({
      journal,
      epoch: () => epoch,
      crypto: globalThis.crypto,
      clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'r' }),
      elsewhere: async () => elsewhere,
      onChanged: async () => undefined,
    });
    await casesList.refresh();
    return { journal, casesList, state: () => casesList.state.getState() };
  }

  it('stands in the list by its day, is found by its lot, and is no case to export', async () => {
    const { state } = await list([CASE_LINE, { ...CASE_LINE, caseId: 'here' }]);
    const { facts, done, of } = state();
    expect(facts.map(({ caseId }) => caseId)).toEqual(['here', CASE_LINE.caseId]);
    expect([done, of]).toEqual([2, 2]);
    const isIn = caseFinder({ ...NO_FILTER, words: 'ce-7' }, () => '');
    expect(facts.filter(isIn)).toEqual([CASE_LINE]);
    expect(casesWithLot(facts, 'CE-7')).toHaveLength(1);
    expect(notExported(state())).toEqual([]);
  });

  it('is named by a backup, and no more once it is here', async () => {
    const elsewhere = [CASE_LINE];
    const { journal, casesList } = await list(elsewhere);
    const named = async () => journal.documents.get('not-in-backup', { id: 'this-tablet' });
    must(await casesList.backUp('a long passphrase', () => undefined));
    expect(await named()).toMatchObject({ value: { cases: [CASE_LINE.caseId] } });
    elsewhere.length = 0;
    must(await casesList.backUp('a long passphrase', () => undefined));
    expect(await named()).toMatchObject({ value: { cases: [] } });
  });
});
