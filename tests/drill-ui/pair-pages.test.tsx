// @vitest-environment jsdom
// The pages of drills: the tablet without names, one pair that gives its names, and what the lead signs.
import { act, screen, waitFor, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, test, vi } from 'vitest';
import { sayAgreed } from '../../src/runtime/outcomes/agreements.ts';
import { DebriefWho } from '../../src/ui/drill/DebriefWho.tsx';
import { Drills } from '../../src/ui/drill/Drills.tsx';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { must } from '../backup/filled-journal.ts';
import { show } from '../ui-screens/fake-session.tsx';
import { type Done, keptOf, tabletWithDrills } from './tablet-with-drills.ts';

const OURS = { lead: 'Ruth S', assists: 'Tom K' };
const OTHERS = { lead: 'Ann B', assists: 'Cy D' };
const user = userEvent.setup();

/** A tablet on which these drills were done, and its page. */
async function opened(done: readonly Done[], page = <Drills />) {
  const app = await tabletWithDrills(done);
  must(await app.desk.setPassphrase({ person: 'Lead L', passphrase: 'four tides and a kettle' }));
  await act(async () => {
    show(page, { session: app.session as never, path: '/drill' });
  });
  return app;
}

const click = (name: string | RegExp) => user.click(screen.getByRole('button', { name }));
const body = (): string => document.body.textContent ?? '';
const NAMES = /Ruth|Tom|Ann|Cy/;

async function ownOf(you: string, other: string): Promise<void> {
  await user.click(screen.getByRole('radio', { name: 'One pair' }));
  await user.type(screen.getByLabelText('Your name'), you);
  if (other !== '') await user.type(screen.getByLabelText('The other name'), other);
  await click('Show this pair');
}

const rowOf = (kind: string): string | null =>
  screen.getByRole('rowheader', { name: kind }).closest('tr')?.textContent ?? null;

test('the tablet tells no name; a pair that gives its names sees its own practice and no other name', async () => {
  await opened([
    { ago: 20, pair: OURS },
    { ago: 9, pair: OURS },
    { ago: 3, pair: OTHERS, isRight: false },
    { ago: 2, pair: { lead: 'Cy D', assists: 'ruth s.' }, mishap: 'blood' },
  ]);
  await screen.findByRole('rowheader', { name: 'Saliva' });
  expect(rowOf('Saliva')).toMatch(/practising3/);
  expect(body()).toMatch(/Ready means practised, and nothing else\./);
  expect(body()).not.toMatch(NAMES);
  await user.click(screen.getByRole('radio', { name: 'One pair' }));
  await click('Show this pair');
  expect(screen.getByText('Give your name.')).toBeVisible();
  // In the other order, and written otherwise.
  await ownOf('tom k.', 'ruth s');
  await screen.findByRole('heading', { name: 'tom k. and ruth s' });
  expect(rowOf('Saliva')).toMatch(/ready2/);
  expect(body()).toMatch(/Ready means practised, and nothing else\./);
  expect(body()).not.toMatch(/Ann|Cy/);
  await click('Hide it again');
  expect(screen.getByLabelText('Your name')).toHaveValue('tom k.');
});

test('drills that cannot be read are said to be that, and no kind of mishap is told as never practised', async () => {
  const { session } = await tabletWithDrills([{ ago: 3, pair: OURS }]);
  vi.spyOn(session, 'drills').mockRejectedValue(new Error('not there'));
  await act(async () => {
    show(<Drills />, { session: session as never, path: '/drill' });
  });
  const told = 'What is kept of drills could not be read';
  await screen.findByText(told);
  expect(screen.queryByRole('table')).toBeNull();
  await ownOf('Ruth S', 'Tom K');
  await screen.findByText(told);
  expect(screen.queryByRole('table')).toBeNull();
});

test('from the own name to the other pairs of that person, one at a time', async () => {
  await opened([
    { ago: 9, pair: OURS },
    { ago: 3, pair: OTHERS },
    { ago: 2, pair: { lead: 'Cy D', assists: 'Ruth S' }, mishap: 'blood' },
  ]);
  await ownOf('Ruth S', '');
  await screen.findByText('Choose with whom.');
  expect(screen.queryByRole('table')).toBeNull();
  expect(screen.getByText('From this tablet: Saliva and Blood.')).toBeVisible();
  expect(screen.queryByRole('button', { name: /Ann/ })).toBeNull();
  await click('With Cy D');
  await screen.findByRole('heading', { name: 'Ruth S and Cy D' });
  expect(rowOf('Blood')).toMatch(/practising1/);
  expect(rowOf('Saliva')).toMatch(/not practised0/);
});

test('the next drills are kept for whom the page names, until somebody names nobody', async () => {
  const { drills, session } = await opened([]);
  must(await session.people.list({ name: 'Ruth S', role: 'dentist' }));
  await screen.findByText('The next drills are kept without names.');
  await user.type(screen.getByLabelText('Assists'), 'Tom K');
  // Typed, or chosen of the people of the clinic: it goes where no name stands.
  await user.click(await screen.findByText('Ruth S'));
  await click('Keep these names');
  expect(screen.getByText('The next drills are kept for Ruth S and Tom K.')).toBeVisible();
  expect(drills.pair).toEqual(OURS);
  await click('Name nobody');
  expect(drills.pair).toBeNull();
  expect(screen.getByLabelText('Leads')).toHaveValue('');
});

test('after a drill its names stand there for those who sit there, and for nobody later', async () => {
  const done: Done = { ago: 0, pair: OURS };
  const { drills } = await opened([done], <DebriefWho kept={keptOf(done, 0)} />);
  await screen.findByText(/^Names are kept with this drill\. They are shown under Drills/);
  expect(body()).not.toMatch(NAMES);
  await user.type(screen.getByLabelText('Leads'), 'Ann B');
  await click('Keep these names');
  await screen.findByText('This drill is kept for Ann B.');
  expect((await drills.kept())[0]?.pair).toEqual({ lead: 'Ann B', assists: '' });
  await click('Name nobody');
  await screen.findByText('This drill is kept without names.');
  expect((await drills.kept())[0]).not.toHaveProperty('pair');
});

test('signed at the desk, by name and day; then a person can let others see the kinds, and withdraw it', async () => {
  const app = await opened([{ ago: 9, pair: OURS }]);
  await screen.findByText(/Not signed yet\. The lead signs it at the desk\./);
  await ownOf('Ruth S', 'Tom K');
  expect(await screen.findByRole('button', { name: 'Let others see it' })).toBeDisabled();
  expect(screen.getByText('Nobody can share before the lead has signed.')).toBeVisible();

  const { desk } = app;
  must(await desk.drills.sign('Drill results are no grounds for action.'));
  await click('Hide it again');
  await click('Show this pair');
  await user.click(await screen.findByRole('button', { name: 'Let others see it' }));
  await screen.findByText('Others may see it.');
  await user.click(screen.getByRole('radio', { name: 'This tablet' }));
  await screen.findByText(/Signed by Lead L on/);
  expect(screen.getByText('Drill results are no grounds for action.')).toBeVisible();
  const whose = await screen.findByLabelText('Whose');
  expect(
    within(whose)
      .getAllByRole('option')
      .map((o) => o.textContent),
  ).toEqual(['Choose a name', 'Ruth S']);
  await user.selectOptions(whose, 'Ruth S');
  expect(screen.getByText('Ruth S practised: Saliva.')).toBeVisible();
  expect(body()).not.toMatch(/Tom/);
  must(await app.drills.share({ person: 'ruth s', isShared: false }));
  await user.click(screen.getByRole('radio', { name: 'One pair' }));
  await user.click(screen.getByRole('radio', { name: 'This tablet' }));
  await screen.findByRole('rowheader', { name: 'Saliva' });
  expect(body()).not.toMatch(NAMES);
});

test('what another window or tablet withdraws goes from the page that stands there', async () => {
  const { desk, drills, elsewhere } = await opened([{ ago: 9, pair: OURS }]);
  must(await desk.drills.sign('Drill results are no grounds for action.'));
  must(await drills.share({ person: 'Ruth S', isShared: true }));
  await user.click(screen.getByRole('radio', { name: 'One pair' }));
  await user.click(screen.getByRole('radio', { name: 'This tablet' }));
  await screen.findByRole('option', { name: 'Ruth S' });
  const { epoch } = must(await elsewhere.startWriting());
  const there = {
    journal: elsewhere,
    epoch: () => epoch,
    tablet: () => 'other',
    nowWallMs: () => 0,
  };
  const withdrawn = {
    person: 'Ruth S',
    to: 'drills',
    isAgreed: false,
    onDay: '2026-11-27',
  } as const;
  must(await sayAgreed(there, withdrawn));
  await waitFor(() => expect(body()).not.toMatch(NAMES));
});

test('taking a name out asks once more, and leaves the drills', async () => {
  const { drills } = await opened([
    { ago: 9, pair: OURS },
    { ago: 3, pair: OTHERS },
  ]);
  await ownOf('Ruth S', 'Tom K');
  await user.click(await screen.findByRole('button', { name: 'Take my name out' }));
  expect((await drills.kept())[0]?.pair).toEqual(OURS);
  await click('Take it out of all drills');
  await screen.findByText('1 drill is kept without names now.');
  expect((await drills.kept()).map(({ pair }) => pair ?? null)).toEqual([null, OTHERS]);
});

test('the lead signs at the desk; the log keeps the sentence', async () => {
  const { desk } = await opened([], <LeadDesk />);
  const sign = await screen.findByRole('button', { name: 'Sign it' });
  await user.click(sign);
  await screen.findByText(/^Signed by Lead L on/);
  const last = desk.state.getState().log.entries.findLast(({ deed }) => deed === 'drills-signed');
  expect(last).toMatchObject({
    by: 'Lead L',
    values: {
      words: 'Drill results are no grounds for action against anybody who works here.',
    },
  });
});
