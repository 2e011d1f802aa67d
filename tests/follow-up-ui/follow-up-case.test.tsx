/** The follow-up of one case, the list of all recalls, and units from before the app. */
import { act, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { beforeEach, describe, expect, it } from 'vitest';
import { beforeProblems, bondingOf, NEW_BEFORE } from '../../src/ui/follow-up/before-draft.ts';
import { TodayRecalls } from '../../src/ui/today/TodayRecalls.tsx';
import {
  bondedBeforeWords,
  followUpWords,
  recallVisitWords,
} from '../../src/words/follow-up-words.ts';
import { must } from '../backup/filled-journal.ts';
import { factsOf } from '../facts/tablets.ts';
import { bonded, found, keepBonded, meet, visit, withFollowUps } from '../follow-up/clinic.ts';
import { show } from '../ui-screens/fake-session.tsx';
import { CASE, oneCase, reopened, rowOf, sessionOn, showAt, type, unitOf } from './screen.tsx';

const PAGE = `/follow-up/${CASE}`;
const press = (name: string | RegExp) => fireEvent.click(screen.getByRole('button', { name }));
const inSheet = () => within(screen.getByRole('dialog'));

const allIn = (onDay: string) =>
  visit(onDay, found('11', 'in-place'), found('21', 'in-place'), found('13-15', 'in-place'));

async function oneVisit() {
  const tablet = await oneCase();
  const id = must(
    await tablet.followUps.noteVisit({ caseId: CASE, visit: allIn('2026-07-01'), by: 'TK' }),
  );
  return { tablet, id };
}

beforeEach(() => sessionStorage.clear());

describe('the page of a case', () => {
  it('tells visits of one day that do not agree, with the way to correct each', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    await keepBonded(a, { caseId: CASE });
    await meet(a, b);
    const at = (finding: 'in-place' | 'lost-retention') =>
      visit('2026-07-01', found('11', finding), found('21', 'in-place'));
    const by = 'TK';
    must(await a.followUps.noteVisit({ caseId: CASE, visit: at('in-place'), by }));
    must(await b.followUps.noteVisit({ caseId: CASE, visit: at('lost-retention'), by }));
    await meet(a, b);
    const tablet = await reopened(a);
    showAt(tablet, PAGE);
    const title = await screen.findByRole('heading', { name: followUpWords.contradictTitle });
    const section = within(title.closest('section') as HTMLElement);
    expect(section.getByText(/^11: visits of one day found different things/)).toBeTruthy();
    expect(section.queryByText(/^21/)).toBeNull();
    const lines = section.getAllByRole('link').map((link) => link.closest('li')?.textContent);
    expect(lines.toSorted()).toEqual([
      '1 Jul 2026: In place. TK looked Correct',
      '1 Jul 2026: Lost retention. TK looked Correct',
    ]);
    const ids = rowOf(tablet).followUp.visits.map(({ id }) => `${PAGE}/visit/${id}`);
    const ways = section.getAllByRole('link').map((link) => link.getAttribute('href') ?? '');
    expect(ways.toSorted()).toEqual(ids.toSorted());
  });

  it('strikes a visit only with a reason and a name, and goes on telling it', async () => {
    const { tablet } = await oneVisit();
    showAt(tablet, PAGE);
    fireEvent.click(
      await screen.findByRole('button', { name: followUpWords.strikeName('1 Jul 2026') }),
    );
    type(inSheet().getByLabelText(followUpWords.by), 'TK');
    fireEvent.click(inSheet().getByRole('button', { name: followUpWords.strike }));
    expect(inSheet().getByText(followUpWords.reasonMissing)).toBeTruthy();
    expect(rowOf(tablet).followUp.visits).toHaveLength(1);
    type(inSheet().getByLabelText(followUpWords.reason), 'wrong patient');
    fireEvent.click(inSheet().getByRole('button', { name: followUpWords.strike }));
    expect(await screen.findByText(/Struck: wrong patient/)).toBeTruthy();
    expect(rowOf(tablet).followUp.visits).toEqual([]);
  });

  it('corrects a visit with what it said, and shows what was replaced', async () => {
    const { tablet, id } = await oneVisit();
    showAt(tablet, `${PAGE}/visit/${id}`);
    const why = await screen.findByLabelText(recallVisitWords.correctionReason);
    expect(unitOf('21').getByRole('radio', { name: 'In place' })).toBeChecked();
    fireEvent.click(unitOf('21').getByRole('radio', { name: 'Not seen' }));
    press(recallVisitWords.noteCorrected);
    expect(await screen.findByText(followUpWords.reasonMissing)).toBeTruthy();
    type(why, 'was not looked at');
    press(recallVisitWords.noteCorrected);
    await screen.findByText(followUpWords.was);
    expect(screen.getByText(/Replaced: was not looked at/)).toBeTruthy();
    const [kept] = rowOf(tablet).followUp.visits;
    expect(kept?.visit.units[1]).toEqual({ unit: '21', findings: ['not-seen'] });
    expect(kept?.was.map((one) => one.visit)).toEqual([allIn('2026-07-01')]);
  });

  it('ends recalls with a reason that is offered, and resumes them', async () => {
    const tablet = await oneCase();
    showAt(tablet, PAGE);
    expect(await screen.findByText(followUpWords.overdueSince('29 Jul 2026'))).toBeTruthy();
    press(followUpWords.endRecalls);
    type(inSheet().getByLabelText(followUpWords.by), 'TK');
    fireEvent.click(inSheet().getByRole('button', { name: 'Moved away' }));
    fireEvent.click(inSheet().getByRole('button', { name: followUpWords.endRecalls }));
    const words = followUpWords.endedOn({ on: '1 Dec 2026', reason: 'Moved away' });
    expect(await screen.findByText(words)).toBeTruthy();
    expect(tablet.followUps.state.getState().due).toEqual([]);
    press(followUpWords.resume);
    await waitFor(() => expect(tablet.followUps.state.getState().due).toHaveLength(1));
  });

  it('a unit that was lost is not asked for again, and can be noted all the same', async () => {
    const { tablet } = await oneVisit();
    const lost = visit('2026-09-01', found('11', 'lost-retention'));
    must(await tablet.followUps.noteVisit({ caseId: CASE, visit: lost, by: null }));
    showAt(tablet, `${PAGE}/visit`);
    fireEvent.click(await screen.findByRole('button', { name: recallVisitWords.allInPlace }));
    expect(screen.queryByRole('listitem', { name: '11' })).toBeNull();
    expect(screen.getByText('11: 1 Sep 2026: Lost retention')).toBeTruthy();
    press(recallVisitWords.noteGoneName('11'));
    fireEvent.click(unitOf('11').getByRole('radio', { name: 'Something found' }));
    fireEvent.click(unitOf('11').getByRole('checkbox', { name: /^Tooth lost/ }));
    press(recallVisitWords.note);
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(3));
    expect(rowOf(tablet).followUp.visits[2]?.visit.units).toEqual([
      { unit: '11', findings: ['tooth-lost'] },
      { unit: '21', findings: ['in-place'] },
      { unit: '13-15', findings: ['in-place'] },
    ]);
  });

  it('names the case in which a unit was bonded again', async () => {
    const first = await oneCase();
    const again = bonded({ title: 'One veneer again', bondedOn: '2026-11-20' });
    await keepBonded(first, {
      caseId: 'case-2',
      said: { ...again, units: again.units.slice(0, 1) },
    });
    const tablet = await reopened(first);
    showAt(tablet, `${PAGE}/visit`);
    fireEvent.click(await screen.findByRole('button', { name: recallVisitWords.allInPlace }));
    fireEvent.click(unitOf('11').getByRole('radio', { name: 'Something found' }));
    fireEvent.click(unitOf('11').getByRole('checkbox', { name: /^Lost retention/ }));
    fireEvent.click(unitOf('11').getByRole('radio', { name: 'Bonded again' }));
    type(unitOf('11').getByLabelText(recallVisitWords.bondedAgainIn), 'case-2');
    press(recallVisitWords.note);
    const visits = () =>
      tablet.followUps.state.getState().list.find((row) => row.caseId === CASE)?.followUp.visits;
    await waitFor(() => expect(visits()).toHaveLength(1));
    expect(visits()?.[0]?.visit.units[0]).toEqual({
      unit: '11',
      findings: ['lost-retention'],
      done: 'bonded-again',
      bondedAgainIn: 'case-2',
    });
  });

  it('shows side by side what two tablets tell of a visit, and settles it', async () => {
    const { tablet: first, id } = await oneVisit();
    const b = await withFollowUps('tablet-b');
    await meet(first, b);
    must(await b.followUps.open());
    const change = { caseId: CASE, of: id, by: 'TK', reason: 'later seen' };
    must(await first.followUps.correctVisit({ ...change, visit: allIn('2026-07-02') }));
    must(await b.followUps.correctVisit({ ...change, visit: allIn('2026-07-03') }));
    await meet(first, b);
    const a = await reopened(first);
    expect(rowOf(a).differing).toHaveLength(1);
    const before = (await factsOf(a)).length;
    showAt(a, PAGE);
    await screen.findByText(followUpWords.differTitle);
    expect(screen.getAllByText(followUpWords.visitOn('3 Jul 2026')).length).toBeGreaterThan(0);
    // Nothing of it is corrected or struck before it is settled.
    expect(screen.queryByRole('button', { name: /^Strike/ })).toBeNull();
    press(followUpWords.takeSideName(followUpWords.otherTablet('tablet-b')));
    type(inSheet().getByLabelText(followUpWords.reason), 'read off the chart');
    type(inSheet().getByLabelText(followUpWords.by), 'TK');
    fireEvent.click(inSheet().getByRole('button', { name: followUpWords.takeSide }));
    await waitFor(() => expect(rowOf(a).differing).toEqual([]));
    expect(rowOf(a).followUp.visits[0]?.visit.onDay).toBe('2026-07-03');
    expect(await factsOf(a)).toHaveLength(before + 1);
  });
});

const groupTitle = (name: keyof typeof followUpWords.groups, count: number) =>
  followUpWords.groupTitle({ name: followUpWords.groups[name], count });

describe('the list of all recalls', () => {
  it('groups them by how they stand, and finds one by a part of its chart reference', async () => {
    const first = await oneCase();
    const ahead = bonded({ patient: 'K-9', bondedOn: '2026-11-20', title: 'One onlay' });
    await keepBonded(first, { caseId: 'case-2', said: ahead });
    const tablet = await reopened(first);
    showAt(tablet, '/follow-up');
    // One is overdue since July; the other one is in its first two weeks.
    expect(await screen.findByRole('heading', { name: groupTitle('overdue', 1) })).toBeTruthy();
    expect(screen.getByRole('heading', { name: groupTitle('due', 1) })).toBeTruthy();
    type(screen.getByLabelText(followUpWords.search), 'k-');
    expect(screen.queryByRole('link', { name: /C-101/ })).toBeNull();
    expect(screen.getByRole('link', { name: /K-9/ })).toBeTruthy();
    type(screen.getByLabelText(followUpWords.search), 'nobody');
    expect(screen.getByText(followUpWords.noneFound)).toBeTruthy();
  });

  it('groups of recalls in which there is none take no room', async () => {
    const tablet = await oneCase();
    showAt(tablet, '/follow-up');
    expect(await screen.findByRole('heading', { name: groupTitle('overdue', 1) })).toBeTruthy();
    for (const name of ['due', 'ahead', 'ended'] as const) {
      expect(screen.queryByRole('heading', { name: groupTitle(name, 0) })).toBeNull();
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

  it('the interval of the clinic moves what lies ahead at once, from 3 to 24 months', async () => {
    const tablet = await oneCase({ bondedOn: '2024-01-01', seenFrom: '2025-12-15' });
    showAt(tablet, '/follow-up');
    // At first sight on 15 December 2025 and 12 months: 15 December 2026, two weeks ahead.
    expect(await screen.findByText(followUpWords.dueUntil('12 Jan 2027'))).toBeTruthy();
    // Nine taps before anything is drawn anew: each counts.
    const less = screen.getByRole('button', { name: /^Less/ });
    act(() => {
      for (let months = 12; months > 3; months -= 1) less.click();
    });
    await waitFor(() => expect(tablet.store.getState().settings.recallMonths).toBe(3));
    await waitFor(() => expect(screen.getByRole('button', { name: /^Less/ })).toBeDisabled());
    expect(rowOf(tablet).due?.dueOn).toBe('2026-12-15');
    expect(rowOf(tablet).recalls.all.map(({ dueOn }) => dueOn)).toContain('2026-03-15');
  });
});

describe('units from before the app', () => {
  it('are followed once the form is whole; what is wrong stands at its field', async () => {
    const tablet = await withFollowUps('tablet-a');
    showAt(tablet, '/follow-up/before');
    const save = await screen.findByRole('button', { name: bondedBeforeWords.save });
    fireEvent.click(save);
    expect(screen.getByText(bondedBeforeWords.faults.chartRef)).toBeTruthy();
    type(screen.getByLabelText(bondedBeforeWords.chartRef), 'B-5');
    type(screen.getByLabelText(bondedBeforeWords.restoration), 'bridge');
    type(screen.getByLabelText(bondedBeforeWords.bondedOn), '2021-05-01');
    type(screen.getByLabelText(bondedBeforeWords.seenFrom), '2020-05-01');
    fireEvent.click(save);
    expect(screen.getByText(bondedBeforeWords.faults.bridge)).toBeTruthy();
    expect(screen.getByText(bondedBeforeWords.faults.seenBefore)).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: /upper right canine/ }));
    fireEvent.click(screen.getByRole('button', { name: /upper right central incisor/ }));
    type(screen.getByLabelText(bondedBeforeWords.seenFrom), '2026-11-01');
    fireEvent.click(save);
    await screen.findByText(followUpWords.earlier);
    expect(rowOf(tablet)).toMatchObject({
      origin: 'earlier',
      patient: 'B-5',
      title: 'Bridge',
      bondedOn: '2021-05-01',
      units: [{ unit: '11-13', teeth: ['11', '13'], isBridge: true, restoration: 'bridge' }],
    });
    press(followUpWords.takeOut);
    type(inSheet().getByLabelText(followUpWords.reason), 'another patient');
    type(inSheet().getByLabelText(followUpWords.by), 'TK');
    fireEvent.click(inSheet().getByRole('button', { name: followUpWords.takeOut }));
    await waitFor(() => expect(tablet.followUps.state.getState().list).toEqual([]));
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
    // A year that was typed by half, as a field for a date takes it.
    const half = beforeProblems({ ...draft, bondedOn: '0020-03-01' }, about.today);
    expect(half.get('bondedOn')).toBe(bondedBeforeWords.faults.day);
    // What turns text is not a chart reference.
    expect([...beforeProblems({ ...draft, chartRef: '\u202e' }, about.today).keys()]).toContain(
      'chartRef',
    );
  });
});

describe('the first page', () => {
  it('says how many are due and overdue, and lists the longest due first, five at most', async () => {
    const first = await oneCase();
    for (const month of [1, 2, 3, 4, 5]) {
      const said = bonded({ patient: `M-${month}`, bondedOn: `2026-0${month}-20` });
      await keepBonded(first, { caseId: `more-${month}`, said });
    }
    const tablet = await reopened(first);
    show(<TodayRecalls>below</TodayRecalls>, { session: sessionOn(tablet) });
    // Bonded in May: its six months were due on 20 November, and may be until 18 December.
    expect(await screen.findByText(followUpWords.todayCount({ overdue: 5, due: 1 }))).toBeTruthy();
    const lines = screen.getAllByRole('link', { name: /^Recall visit of/ });
    expect(lines.map((line) => /(C-101|M-\d)/.exec(line.textContent ?? '')?.[0])).toEqual([
      'C-101',
      'M-1',
      'M-2',
      'M-3',
      'M-4',
    ]);
    expect(screen.getByText('below')).toBeTruthy();
  });
});
