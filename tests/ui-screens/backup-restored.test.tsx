// @vitest-environment jsdom
// After a restore the page names what changed, so that somebody can look each of it up.
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { ok } from '../../src/base/result.ts';
import { Backup } from '../../src/ui/backup/Backup.tsx';
import type { RestoredThing } from '../../src/words/codes.ts';
import { fakeSession, show } from './fake-session.tsx';

const COUNTS = {
  found: { cases: 1, entries: 1, documents: 65, tombstones: 0 },
  casesAdded: 1,
  casesContinued: 0,
  casesSame: 0,
  casesDeleted: 0,
  casesDiffering: 0,
  documentsTaken: 64,
  tombstonesTaken: 0,
  setApart: 1,
};

const lots = Array.from({ length: 63 }, (_, n): RestoredThing => {
  const title = `Etch gel, L-${n + 10}`;
  return { about: 'material', id: `m${n}`, title, revision: null, did: ['added'] };
});

it('names revisions, lots and cases with what happened, twenty of a group', async () => {
  const session = fakeSession();
  const things: readonly RestoredThing[] = [
    { about: 'revision', id: 'v@3', title: 'Veneers', revision: 3, did: ['added', 'waits'] },
    ...lots,
    { about: 'case', id: 'c1', title: 'Upper front', revision: null, did: ['changed'] },
  ];
  session.casesList.restore.mockResolvedValue(ok({ ...COUNTS, things }));
  show(<Backup />, { session });
  await userEvent.upload(screen.getByLabelText('File'), new File(['x'], 'a.backup'));
  const [, , passphrase] = screen.getAllByLabelText(/^Passphrase/);
  if (passphrase === undefined) throw new Error('no field for the passphrase of the file');
  await userEvent.type(passphrase, 'ebb tide over quiet sand');
  await userEvent.click(screen.getByRole('button', { name: 'Restore' }));
  const group = async (name: string) => {
    const heading = await screen.findByRole('heading', { name });
    const list = heading.nextElementSibling;
    if (!(list instanceof HTMLElement)) throw new Error(`no list under ${name}`);
    return within(list);
  };
  const revisions = await group('Protocol revisions');
  expect(revisions.getByRole('listitem')).toHaveTextContent(
    'Veneers, revision 3 added and waits for the lead to confirm it',
  );
  const named = (await group('Lots')).getAllByRole('listitem');
  expect(named).toHaveLength(21);
  expect(named[0]).toHaveTextContent('Etch gel, L-10 added');
  expect(named[20]).toHaveTextContent('and 43 more');
  const cases = await group('Cases');
  expect(cases.getByRole('link', { name: 'Upper front' })).toHaveAttribute('href', '/record/c1');
});
