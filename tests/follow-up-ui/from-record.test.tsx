/** From the record of a case that was really played and signed: three taps, and the record is as it was. */
import { screen, waitFor } from '@testing-library/react';
import { Suspense } from 'react';
import { expect, it } from 'vitest';
import { Route, Switch } from 'wouter';
import { ok } from '../../src/base/result.ts';
import { replay } from '../../src/engine/log.ts';
import { readCase } from '../../src/runtime/read-case.ts';
import { FollowUp } from '../../src/ui/follow-up/FollowUp.tsx';
import { Record } from '../../src/ui/record/page/Record.tsx';
import { must } from '../backup/filled-journal.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { type WithFollowUps, withFollowUps } from '../follow-up/clinic.ts';
import { show } from '../ui-screens/fake-session.tsx';
import { CASE, rowOf, sessionOn, taps } from './screen.tsx';

/** Keeps a signed case of one veneer on a patient, press by press. */
async function keepSigned({ journal, epoch }: WithFollowUps): Promise<void> {
  const chair = FamilyChair.of('veneers, universal', 1, 'as-shipped').toTheEnd();
  expect(chair.close()).toBeNull();
  const { records } = replay(
    chair.log.records.map((recorded) => {
      const { event } = recorded;
      if (event.type !== 'case-opened') return recorded;
      return { ...recorded, event: { ...event, mode: 'patient' as const } };
    }),
  );
  for (const press of new Set(records.map((recorded) => recorded.press))) {
    const recorded = records.filter((each) => each.press === press);
    must(await journal.append({ caseId: CASE, epoch, recorded }));
  }
}

it('three taps note that all is in place, and no entry of the bonding changes', async () => {
  const tablet = await withFollowUps('tablet-a');
  await keepSigned(tablet);
  must(await tablet.followUps.open());
  await tablet.followUps.takeInOlder();
  const before = must(await readCase(tablet.journal, CASE));
  const session = sessionOn(tablet);
  session.readRecord.mockResolvedValue(ok({ ...before, anchor: null }));
  const { tap, counted } = taps();
  show(
    <Suspense>
      <Switch>
        <Route path="/record/:id">
          <Record caseId={CASE} />
        </Route>
        <FollowUp />
      </Switch>
    </Suspense>,
    { session, path: `/record/${CASE}` },
  );
  await tap('button', 'Recall visit');
  await tap('button', 'All in place');
  // Nobody is on the list of the clinic and nobody looked before: the dentist of the case is named.
  expect(screen.getByLabelText('Who looked')).not.toHaveValue('');
  await tap('button', 'Note it');
  await waitFor(() => expect(rowOf(tablet).followUp.visits).toHaveLength(1));
  expect(counted()).toBe(3);
  expect(rowOf(tablet).followUp.visits[0]?.visit.isOwnWork).toBe(true);
  expect(must(await readCase(tablet.journal, CASE)).reading).toEqual(before.reading);
});
