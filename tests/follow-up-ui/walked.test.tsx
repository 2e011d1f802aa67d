/** What people who walk through follow-up for the first time stumbled over, each held by what the page now says. */
import { fireEvent, screen, waitFor } from '@testing-library/react';
import { beforeEach, expect, it } from 'vitest';
import { checkVisit } from '../../src/outcomes/check-visit.ts';
import { beforeProblems, bondingOf, NEW_BEFORE } from '../../src/ui/follow-up/before-draft.ts';
import { followUpWords, recallVisitWords } from '../../src/words/follow-up-words.ts';
import { must } from '../backup/filled-journal.ts';
import { found, visit } from '../follow-up/clinic.ts';
import { CASE, oneCase, rowOf, showAt, type } from './screen.tsx';

const PAGE = `/follow-up/${CASE}`;
const press = (name: string | RegExp) => fireEvent.click(screen.getByRole('button', { name }));

beforeEach(() => sessionStorage.clear());

it('a visit without a right day is told once, at its day, and not again at each stated day', async () => {
  const tablet = await oneCase();
  const about = { followUp: rowOf(tablet).followUp, today: '2026-12-01' };
  const lost = found('11', 'lost-retention', { statedDay: '2026-06-01' });
  for (const day of ['', '2025-01-01', '2027-01-01']) {
    const places = checkVisit(visit(day, lost), about).map(({ place }) => place);
    expect(places, day).toEqual(['visit.onDay']);
  }
});

it('nobody who came is one tap, and the page does not say that somebody looked', async () => {
  const tablet = await oneCase();
  showAt(tablet, `${PAGE}/visit`);
  fireEvent.click(await screen.findByRole('button', { name: recallVisitWords.noneSeen }));
  press(recallVisitWords.note);
  expect(await screen.findByText(followUpWords.notedUnseen('Dr Ilves'))).toBeTruthy();
  expect(screen.queryByText(/ looked(,|$)/)).toBeNull();
  const [kept] = rowOf(tablet).followUp.visits;
  const findings = kept?.visit.units.map((unit) => unit.findings);
  expect(findings).toEqual([['not-seen'], ['not-seen'], ['not-seen']]);
});

it('a visit of which a unit was seen says who looked', async () => {
  const tablet = await oneCase();
  const half = visit('2026-07-01', found('11', 'in-place'), found('21', 'not-seen'));
  must(await tablet.followUps.noteVisit({ caseId: CASE, visit: half, by: null }));
  showAt(tablet, PAGE);
  expect(await screen.findByText(/ looked(,|$)/)).toBeTruthy();
});

it('groups of recalls in which there is none take no room', async () => {
  const tablet = await oneCase();
  showAt(tablet, '/follow-up');
  const title = (name: keyof typeof followUpWords.groups, count: number) =>
    followUpWords.groupTitle({ name: followUpWords.groups[name], count });
  expect(await screen.findByRole('heading', { name: title('overdue', 1) })).toBeTruthy();
  for (const name of ['due', 'ahead', 'ended'] as const) {
    expect(screen.queryByRole('heading', { name: title(name, 0) })).toBeNull();
  }
  expect(screen.queryByText(followUpWords.noneWaits)).toBeNull();
  type(screen.getByLabelText(followUpWords.search), 'nobody');
  expect(screen.getByText(followUpWords.noneFound)).toBeTruthy();
});

it('where nothing is due or overdue the list says so once', async () => {
  const tablet = await oneCase({ bondedOn: '2026-11-28' });
  showAt(tablet, '/follow-up');
  expect(await screen.findByText(followUpWords.noneWaits)).toBeTruthy();
  await waitFor(() => expect(screen.getByRole('heading', { name: /^Ahead/ })).toBeTruthy());
});

it('a bonding in the future is told once, and what turns the direction of text is left out', () => {
  const draft = {
    ...NEW_BEFORE,
    chartRef: 'C\u202e-7\u2069',
    title: '\u200fTwo',
    teeth: ['11'],
    bondedOn: '2028-01-01',
    seenFrom: '2026-10-01',
  };
  const about = { today: '2026-12-01', title: 'Veneer' };
  expect([...beforeProblems(draft, about.today).keys()]).toEqual(['bondedOn']);
  expect(bondingOf(draft, about)).toMatchObject({ patient: 'C-7', title: 'Two' });
  // What turns text is not a chart reference.
  expect([...beforeProblems({ ...draft, chartRef: '\u202e' }, about.today).keys()]).toContain(
    'chartRef',
  );
});
