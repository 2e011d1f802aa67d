// @vitest-environment jsdom
// The paces of all steps go into a draft with one press, and out of it with one Undo.
import { act, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, expect, it, vi } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { ok } from '../../src/base/result.ts';
import { undoEdit } from '../../src/protocol/edit-history.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { protocolFileText } from '../../src/runtime/lead/lead-protocol-file.ts';
import type { CaseSummary } from '../../src/storage/journal-types.ts';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { must } from '../backup/filled-journal.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { type FakeSession, fakeSession, show } from '../ui-screens/fake-session.tsx';
import { openDesk, PASSPHRASE, PERSON } from './lead-support.ts';
import { dialogsInJsdom } from './show-desk.tsx';

vi.setConfig({ testTimeout: 30_000 });
beforeAll(dialogsInJsdom);

const protocol = protocolOf([
  step('ready', 'case', confirm),
  step('fit', 'unit', confirm, { after: ['ready'] }),
  step('dry', 'unit', confirm, { after: ['fit/same'] }),
]);

const logs = [10, 20, 30, 40, 50].map((fitS, day) => {
  const wallMs = Date.UTC(2026, 10, 2 + day, 9);
  const chair = new Chair(settingOf(protocol, ['11', '21']), { wallMs });
  chair.rows(`
    at 10 s              confirm ready case
    at ${10 + fitS} s    confirm fit 11 21
    at ${15 + fitS} s    confirm dry 11
    at ${21 + fitS} s    confirm dry 21
  `);
  return chair.log;
});

/** The page of own times with these cases, at an open desk. */
async function page() {
  const test = await openDesk(undefined, { templates: [protocol] });
  await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  const hash = protocolHash(protocol);
  const cases = logs.map((_, i) => ({ caseId: `case-${i}`, mode: 'patient' }) as CaseSummary);
  const entry = { protocol, hash, approval: null, origin: 'template' } as const;
  const lead = Promise.resolve(test.desk);
  const session = { ...fakeSession({ protocols: [entry], cases }), lead: () => lead };
  session.readCase.mockImplementation(async (caseId) => {
    const log = present(logs[Number(caseId.replace('case-', ''))], caseId);
    return ok({ log }) as Awaited<ReturnType<FakeSession['readCase']>>;
  });
  const fake: FakeSession = session;
  const open = async () => {
    await act(async () => {
      show(<LeadDesk />, { session: fake, path: '/lead/own-times' });
    });
  };
  return { desk: test.desk, open };
}

it('one press takes over every pace that five presses stand behind', async () => {
  const { desk, open } = await page();
  await open();
  await userEvent.click(
    await screen.findByRole('button', { name: 'Take over the paces of 2 steps' }),
  );
  const [draft, ...none] = desk.state.getState().drafts;
  expect(none).toEqual([]);
  const { history } = present(draft, 'a draft');
  const paces = history.protocol.steps.map(({ id, pace }) => [id, pace.medianMs.value]);
  const was = protocol.steps.map(({ id, pace }) => [id, pace.medianMs.value]);
  // By hand: fitted after 10, 20, 30, 40 and 50 s, one press for both; dried 5 s and 6 s after.
  expect(paces).toEqual([was[0], ['fit', 30_000], ['dry', 5_500]]);
  expect(JSON.stringify(history.protocol)).toContain('own records: 5 presses in 5 cases on 5 days');
  expect(undoEdit(history).protocol).toEqual(protocol);
});

it('paces go into no draft that came in from another tablet', async () => {
  const { desk, open } = await page();
  const hash = protocolHash(protocol);
  must(await desk.importText(protocolFileText({ protocol, hash, ancestors: [], from: null })));
  const came = desk.state.getState().drafts;
  expect(came).toMatchObject([{ origin: 'import' }]);
  await open();
  await userEvent.click(
    await screen.findByRole('button', { name: 'Take over the paces of 2 steps' }),
  );
  const drafts = desk.state.getState().drafts;
  expect(drafts.map(({ origin }) => origin).toSorted()).toEqual(['here', 'import']);
  expect(drafts.find(({ origin }) => origin === 'import')).toEqual(came[0]);
});
