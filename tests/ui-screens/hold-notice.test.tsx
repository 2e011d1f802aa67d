/**
 * The chair of a finishing visit within the hold, and the closed chair of the visit before it. The
 * hold: 24 h of elapsed time since the last light, common practice.
 */
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { err, ok } from '../../src/base/result.ts';
import type { Action } from '../../src/protocol/types.ts';
import { ClosedHold, HoldNotice } from '../../src/ui/chair/HoldNotice.tsx';
import { SetUp } from '../../src/ui/set-up/SetUp.tsx';
import { Today } from '../../src/ui/today/Today.tsx';
import { Chair } from '../engine/chair.ts';
import { confirm, expose, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { caseNamed, FamilyChair, protocolNamed } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

const HOUR_MS = 3_600_000;
/** Monday 30 November 2026, 14:05 in the zone of the tests. */
const LIT_MS = new Date(2026, 10, 30, 14, 5).getTime();
const finishing = protocolNamed('finishing-visit');

function visit(hoursAfter: number): FamilyChair {
  const follows = { caseId: 'two-veneers', lastExposureWallMs: LIT_MS };
  const spec = { ...caseNamed('finish-two-veneers'), follows };
  return new FamilyChair({ spec, protocol: finishing }, LIT_MS + hoursAfter * HOUR_MS);
}

function told(chair: FamilyChair): string {
  const session = fakeSession();
  show(<HoldNotice running={runningOf(chair)} />, { session });
  const words = screen.queryAllByRole('status').map((e) => e.textContent);
  document.body.replaceChildren();
  return words.join(' ');
}

it('says before anything is done until when the hold runs and what it protects', () => {
  expect(told(visit(4))).toMatch(/The hold runs until.*Tue 1 Dec, 14:05/);
  expect(told(visit(4))).toContain('Left until then: Open contacts, Coarse strip and Margins.');
});

it('says nothing of it between, and again at each step that the hold protects', () => {
  const chair = visit(4);
  const seen = new Map<string, string>();
  for (let n = 0; n < 200; n += 1) {
    const top = chair.view.offers[0];
    if (top === undefined) break;
    if (!seen.has(top.step)) seen.set(top.step, told(chair));
    const reason = { reason: 'patient flies home' };
    if (chair.do({ do: 'press', offer: top, ...reason }) !== null && chair.next() === undefined)
      break;
  }
  for (const step of ['margins', 'contacts-opened', 'strip-coarse']) {
    expect([step, seen.get(step)]).toEqual([step, expect.stringMatching(/Tue 1 Dec, 14:05/)]);
  }
  expect(seen.get('flash-facial')).toBe('');
});

it('says nothing once 24 h have elapsed', () => {
  expect(told(visit(24))).toBe('');
});

function played(action: Action): Chair {
  const chair = new Chair(settingOf(protocolOf([step('act', 'unit', action)]), ['11']), {
    wallMs: LIT_MS - 10_000,
  });
  for (const ms of [0, 10_000]) {
    const [offer] = chair.at(ms).view.offers;
    if (offer) chair.do({ do: 'press', offer });
  }
  chair.do({ do: 'close', by: 'dentist-a', role: 'dentist' });
  return chair;
}

function toldClosed(chair: Chair): string | null {
  const protocols = [
    { protocol: finishing, hash: 'h', approval: null, origin: 'template' as const },
  ];
  show(<ClosedHold running={runningOf(chair)} />, { session: fakeSession({ protocols }) });
  const words = document.body.textContent;
  document.body.replaceChildren();
  return words;
}

it('tells on the closed chair until when the contacts stay closed', () => {
  const lit = played(expose({ surfaces: ['facial'], seconds: 10 }));
  expect(lit.log.state.closed).not.toBeNull();
  expect(toldClosed(lit)).toBe('Contacts stay closed until Tue 1 Dec, 14:05');
});

it('tells nothing of contacts where no light was given', () => {
  expect(toldClosed(played(confirm))).toBe('No clock is running');
});

const inHold = {
  ...caseNamed('finish-two-veneers'),
  follows: { caseId: 'two-veneers', lastExposureWallMs: NOW_MS - HOUR_MS },
};
const approved = {
  hash: 'h',
  approval: { hash: 'h', by: 'lead', onWallMs: 0 },
  origin: 'own',
} as const;
const entry = { protocol: finishing, ...approved };

it('says at Begin until when the hold runs, and begins for people who insist', async () => {
  const user = userEvent.setup();
  const session = fakeSession({ prepared: [inHold], protocols: [entry] });
  session.openCase.mockImplementation(async ({ withinHold }) =>
    withinHold === true ? ok('c') : err({ code: 'hold-runs', endsMs: NOW_MS + 23 * HOUR_MS }),
  );
  const { where } = show(<Today />, { session });
  await user.click(await screen.findByRole('button', { name: `Begin ${inHold.title}` }));
  expect(await screen.findByRole('alert')).toHaveTextContent(
    'The hold since the last light runs until tomorrow 07:00. Contacts and margins are left until then.',
  );
  expect(where()).toBe('/');
  await user.click(screen.getByRole('button', { name: /all the same$/ }));
  expect(session.openCase.mock.lastCall?.[0]).not.toHaveProperty('allTheSame');
  expect(where()).toBe('/chair');
});

it('says in set-up that an appointment lies within the hold', () => {
  const dated = (hours: number) => {
    const spec = { ...inHold, scheduledFor: new Date(NOW_MS + hours * HOUR_MS).toISOString() };
    show(<SetUp id={spec.id} />, {
      session: fakeSession({ prepared: [spec], protocols: [entry] }),
    });
    const found = screen.queryByText('The hold since the last light runs until Thu 26 Nov, 07:00.');
    document.body.replaceChildren();
    return found !== null;
  };
  expect([dated(22), dated(23)]).toEqual([true, false]);
});

it.each([
  [false, 'Go on', '/chair'],
  [true, 'Record', '/record/c'],
] as const)('leads from a case that was begun to it; closed: %s', async (isClosed, name, place) => {
  const user = userEvent.setup();
  const session = fakeSession({ prepared: [inHold], protocols: [entry] });
  session.openCase.mockResolvedValue(err({ code: 'case-begun', caseId: 'c', isClosed }));
  const { where } = show(<Today />, { session });
  await user.click(await screen.findByRole('button', { name: `Begin ${inHold.title}` }));
  const alert = await screen.findByRole('alert');
  expect(alert).toHaveTextContent('A case can be begun only once.');
  await user.click(within(alert).getByRole('button', { name }));
  expect(where()).toBe(place);
});

it('says on an open case that the finishing visit of its closing stays prepared', () => {
  const chair = FamilyChair.of('veneers, universal');
  const opened = { ...chair.log.state.opened, mode: 'patient' as const };
  const running = runningOf(chair);
  const patient = { ...running, log: { ...running.log, state: { ...running.log.state, opened } } };
  const follows = { caseId: opened.spec.id, lastExposureWallMs: NOW_MS };
  const words = (prepared: typeof inHold) => {
    show(<HoldNotice running={patient} />, { session: fakeSession({ prepared: [prepared] }) });
    const found = document.body.textContent;
    document.body.replaceChildren();
    return found;
  };
  expect(words({ ...inHold, follows })).toContain('stays prepared');
  expect(words(inHold)).toBe('');
});

it('asks before a patient’s case is put down for another one, and then does what was asked', async () => {
  const user = userEvent.setup();
  const session = fakeSession({ prepared: [inHold], protocols: [entry] });
  const runs = { code: 'patient-runs', place: 'chair', expected: '', came: 'c' };
  session.openCase.mockResolvedValueOnce(err(runs));
  const { where } = show(<Today />, { session });
  await user.click(await screen.findByRole('button', { name: /^Rehearse / }));
  const alert = await screen.findByRole('alert');
  expect(alert).toHaveTextContent('A patient’s case is running.');
  expect(session.leaveCase).not.toHaveBeenCalled();
  await user.click(within(alert).getByRole('button', { name: 'Stop watching it' }));
  expect(session.leaveCase).toHaveBeenCalledOnce();
  expect(session.openCase.mock.lastCall?.[0]).toMatchObject({ mode: 'rehearsal' });
  expect(where()).toBe('/chair');
});
