/** A recall visit as it is noted with taps, and what is asked for where more is found. */
import { fireEvent, screen, waitFor } from '@testing-library/react';
import { Suspense } from 'react';
import { beforeEach, describe, expect, it } from 'vitest';
import { Route, Switch } from 'wouter';
import { FollowUp } from '../../src/ui/follow-up/FollowUp.tsx';
import { RecordFollowUp } from '../../src/ui/record/page/RecordFollowUp.tsx';
import { TodayRecalls } from '../../src/ui/today/TodayRecalls.tsx';
import { followUpWords, recallVisitWords } from '../../src/words/follow-up-words.ts';
import { must } from '../backup/filled-journal.ts';
import { found, visit } from '../follow-up/clinic.ts';
import { show } from '../ui-screens/fake-session.tsx';
import { CASE, oneCase, rowOf, sessionOn, showAt, taps, type, unitOf } from './screen.tsx';

const VISIT = `/follow-up/${CASE}/visit`;
const { findings } = followUpWords;

const check = (unit: string, name: string) =>
  fireEvent.click(unitOf(unit).getByRole('checkbox', { name: new RegExp(`^${name}`) }));

const seen = (unit: string, name: string) =>
  fireEvent.click(unitOf(unit).getAllByRole('radio', { name })[0] as HTMLElement);

const noteIt = () => fireEvent.click(screen.getByRole('button', { name: recallVisitWords.note }));

beforeEach(() => sessionStorage.clear());

describe('where all is in place', () => {
  it.each([
    ['the record of the case', <RecordFollowUp key="r" caseId={CASE} />, 'button', 'Recall visit'],
    [
      'the first page',
      <TodayRecalls key="t">{null}</TodayRecalls>,
      'link',
      /^Recall visit of C-101/,
    ],
  ] as const)('three taps from %s note it', async (_, from, role, first) => {
    const tablet = await oneCase();
    const { tap, counted } = taps();
    const { where } = show(
      <Suspense>
        <Switch>
          <Route path="/">{from}</Route>
          <FollowUp />
        </Switch>
      </Suspense>,
      { session: sessionOn(tablet, [{ name: 'Dr Ilves', role: 'dentist' }]) },
    );
    await tap(role, first);
    await tap('button', 'All in place');
    await tap('button', 'Note it');
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(1));
    expect(counted()).toBe(3);
    expect(rowOf(tablet).followUp.visits[0]?.visit).toEqual({
      onDay: '2026-12-01',
      examiner: 'Dr Ilves',
      isOwnWork: false,
      units: ['11', '21', '13-15'].map((unit) => ({ unit, findings: ['in-place'] })),
    });
    expect(where()).toBe(`/follow-up/${CASE}`);
    // It counts for the recall that is nearest: that of 12 months, so nothing is due any more.
    expect(tablet.followUps.state.getState().due).toEqual([]);
  });

  it('the person who looked last is named the next time, and whoever bonded it is told', async () => {
    const tablet = await oneCase();
    const units = ['11', '21', '13-15'].map((unit) => found(unit, 'in-place'));
    const first = { ...visit('2026-01-14', ...units), examiner: 'R.S.' };
    must(await tablet.followUps.noteVisit({ caseId: CASE, visit: first, by: null }));
    showAt(tablet, VISIT);
    expect(await screen.findByLabelText(recallVisitWords.examiner)).not.toHaveValue('');
    type(screen.getByLabelText(recallVisitWords.examiner), 'R.S.');
    expect(screen.getByText(recallVisitWords.ownWork)).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: recallVisitWords.allInPlace }));
    noteIt();
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(2));
    // "RS" bonded it; dots make no other person.
    expect(rowOf(tablet).followUp.visits[1]?.visit).toMatchObject({
      examiner: 'R.S.',
      isOwnWork: true,
    });
  });
});

describe('where more is found', () => {
  it('each unit is noted by itself, findings combine, and a retainer has its own', async () => {
    const tablet = await oneCase();
    showAt(tablet, VISIT);
    await screen.findByRole('button', { name: recallVisitWords.allInPlace });
    seen('11', recallVisitWords.found);
    check('11', findings.chipped.name);
    check('11', findings['margin-stained'].name);
    fireEvent.click(unitOf('11').getByRole('radio', { name: followUpWords.thens.repaired }));
    seen('21', findings['not-seen'].name);
    seen('13–15', recallVisitWords.found);
    const retainer = unitOf('13–15').getByRole('group', { name: /^Retainer 15/ });
    fireEvent.click(Array.from(retainer.querySelectorAll('input'))[1] as HTMLElement);
    const groups = unitOf('13–15').getAllByRole('checkbox', { name: /^Partly loose/ });
    fireEvent.click(groups.at(-1) as HTMLElement);
    noteIt();
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(1));
    expect(rowOf(tablet).followUp.visits[0]?.visit.units).toEqual([
      { unit: '11', findings: ['chipped', 'margin-stained'], done: 'repaired' },
      { unit: '21', findings: ['not-seen'] },
      {
        unit: '13-15',
        findings: ['partly-loose'],
        retainers: [{ tooth: '15', findings: ['partly-loose'] }],
      },
    ]);
  });

  it('a stated day before the last sight is refused at its field with both days, and nothing is lost', async () => {
    const tablet = await oneCase();
    const units = ['11', '21', '13-15'].map((unit) => found(unit, 'in-place'));
    must(
      await tablet.followUps.noteVisit({
        caseId: CASE,
        visit: visit('2026-07-01', ...units),
        by: null,
      }),
    );
    showAt(tablet, VISIT);
    fireEvent.click(await screen.findByRole('button', { name: recallVisitWords.allInPlace }));
    seen('11', recallVisitWords.found);
    check('11', findings['lost-retention'].name);
    type(unitOf('11').getByLabelText(recallVisitWords.statedDay), '2026-05-01');
    type(screen.getByLabelText(recallVisitWords.noteLabel), 'brought in a bag');
    noteIt();
    const problem = await screen.findByText(
      recallVisitWords.statedTooEarly({ stated: '1 May 2026', seen: '1 Jul 2026' }),
    );
    expect(unitOf('11').getByLabelText(recallVisitWords.statedDay)).toHaveFocus();
    expect(problem.closest('.lw-field')).toBeTruthy();
    expect(screen.getByLabelText(recallVisitWords.noteLabel)).toHaveValue('brought in a bag');
    expect(rowOf(tablet).followUp.visits).toHaveLength(1);
    type(unitOf('11').getByLabelText(recallVisitWords.statedDay), '2026-10-01');
    noteIt();
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(2));
    expect(rowOf(tablet).followUp.visits[1]?.visit.units[0]).toEqual({
      unit: '11',
      findings: ['lost-retention'],
      statedDay: '2026-10-01',
    });
  });

  it('a unit of which nothing is said is asked for; what was said before stays under it', async () => {
    const tablet = await oneCase();
    showAt(tablet, VISIT);
    await screen.findByRole('button', { name: recallVisitWords.allInPlace });
    seen('21', recallVisitWords.found);
    noteIt();
    expect(await unitOf('11').findByText(recallVisitWords.faults['no-finding'])).toBeTruthy();
    expect(unitOf('21').getByText(recallVisitWords.faults['no-finding'])).toBeTruthy();
    check('21', findings.sensitive.name);
    seen('21', findings['in-place'].name);
    seen('21', recallVisitWords.found);
    expect(unitOf('21').getByRole('checkbox', { name: /^Sensitive/ })).toBeChecked();
    fireEvent.click(screen.getByRole('button', { name: recallVisitWords.others }));
    noteIt();
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(1));
    expect(rowOf(tablet).followUp.visits[0]?.visit.units.map((u) => u.findings)).toEqual([
      ['in-place'],
      ['sensitive'],
      ['in-place'],
    ]);
  });

  it('grades are kept as entered, with scale and year', async () => {
    const tablet = await oneCase();
    showAt(tablet, VISIT);
    fireEvent.click(await screen.findByRole('button', { name: recallVisitWords.allInPlace }));
    fireEvent.click(
      screen.getByRole('button', { name: recallVisitWords.addGradeName('11'), hidden: true }),
    );
    const grades = unitOf(recallVisitWords.gradesOf('11'));
    type(grades.getByLabelText(recallVisitWords.scale), 'usphs');
    fireEvent.click(grades.getByRole('radio', { name: 'Bravo' }));
    noteIt();
    expect(await screen.findByText(recallVisitWords.yearMissing)).toBeTruthy();
    type(grades.getByLabelText(recallVisitWords.year), '2005');
    fireEvent.click(grades.getByRole('button', { name: 'Margin' }));
    noteIt();
    await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(1));
    expect(rowOf(tablet).followUp.visits[0]?.visit.units[0]).toEqual({
      unit: '11',
      findings: ['in-place'],
      grades: [{ scale: 'Modified USPHS', year: 2005, item: 'Margin', grade: 'Bravo' }],
    });
  });
});

describe('where nothing is seen', () => {
  it('nobody who came is one tap, and the page does not say that somebody looked', async () => {
    const tablet = await oneCase();
    showAt(tablet, VISIT);
    fireEvent.click(await screen.findByRole('button', { name: recallVisitWords.noneSeen }));
    type(screen.getByLabelText(recallVisitWords.examiner), 'Dr Ilves');
    noteIt();
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
    showAt(tablet, `/follow-up/${CASE}`);
    expect(await screen.findByText(/ looked(,|$)/)).toBeTruthy();
  });
});
