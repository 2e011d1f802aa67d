// @vitest-environment jsdom
// Figures by person: a person agrees and withdraws on the own figures, and the lead opens them with the passphrase.
import { act, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, test } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { ok } from '../../src/base/result.ts';
import type { Agreement } from '../../src/outcomes/review-types.ts';
import {
  FIRST_FOLLOW_UPS,
  type FollowUpsState,
} from '../../src/runtime/follow-up/follow-up-state.ts';
import type { LeadDesk } from '../../src/runtime/lead/lead.ts';
import { FIRST_LEAD_STATE, type LeadState } from '../../src/runtime/lead/lead-state.ts';
import { Outcomes } from '../../src/ui/outcomes/Outcomes.tsx';
import { openDesk, PASSPHRASE, PERSON } from '../lead/lead-support.ts';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';
import { rows } from './shown-page.tsx';
import { ASKED, TODAY, unitsBy } from './small-clinic.ts';

const user = userEvent.setup();
const NAMES = ['Al', 'Bo', 'Cy'];
const NAMED = /\b(Al|Bo|Cy)\b/;

const agreedTo = (persons: readonly string[]): readonly Agreement[] =>
  persons.map((person) => ({ person, to: 'own-figures', onDay: TODAY }));

type Desk = Pick<LeadDesk, 'open' | 'close' | 'touch' | 'state'>;

/** A desk that opens to any passphrase at once. */
function plainDesk(): Desk {
  const state = createStore<LeadState>(() => ({
    ...FIRST_LEAD_STATE,
    isRead: true,
    keeper: PERSON,
  }));
  return {
    state,
    touch: () => undefined,
    open: async () => {
      state.setState({ isOpen: true });
      return ok(null);
    },
    close: async () => state.setState({ isOpen: false }),
  };
}

async function realDesk(): Promise<Desk> {
  const { desk } = await openDesk();
  await desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  await desk.close('left');
  return desk;
}

/** The own part of the page, with a follow-up that keeps what is agreed. */
async function opened(agreed: readonly string[], desk: Desk = plainDesk()) {
  const units = [...unitsBy('Cy', 60, 8), ...unitsBy('Bo', 60, 20), ...unitsBy('Al', 60, 8)];
  const state = createStore<FollowUpsState>(() => ({
    ...FIRST_FOLLOW_UPS,
    isRead: true,
    list: rows(units),
    reviews: { ...ASKED, agreed: agreedTo(agreed) },
    today: TODAY,
  }));
  const set = (persons: readonly string[]): void =>
    state.setState((s) => ({ reviews: { ...s.reviews, agreed: agreedTo(persons) } }));
  const followUps = {
    state,
    open: async () => ok(null),
    agree: async (o: { readonly person: string; readonly isAgreed: boolean }) => {
      const others = state.getState().reviews.agreed.map(({ person }) => person);
      set(o.isAgreed ? [...others, o.person] : others.filter((person) => person !== o.person));
      return ok('id');
    },
  };
  const session = { ...fakeSession(), lead: async () => desk };
  session.followUps.mockResolvedValue(followUps as never);
  const shown = show(<Outcomes part="own" />, { session: session as never });
  await screen.findByRole('heading', { name: 'By person, for the lead: retention' });
  return { ...shown, desk, set };
}

const click = (name: string) => user.click(screen.getByRole('button', { name }));

async function openAsLead(passphrase = PASSPHRASE): Promise<void> {
  await click('Open it');
  await user.type(await screen.findByLabelText('Passphrase of the desk'), passphrase);
  await click('Open');
}

/** What stands in the part of the lead. */
const ofLead = (): string =>
  screen.getByRole('heading', { name: /^By person/ }).closest('section')?.textContent ?? '';

test('a person agrees on the own figures, and withdraws', async () => {
  const { desk } = await opened([]);
  expect(screen.queryByText('The lead may see my figures under my name.')).toBeNull();
  await user.selectOptions(screen.getByLabelText('Your name'), 'Al');
  await click('Show the units that I bonded');
  expect(await screen.findByText('You have not agreed.')).toBeVisible();
  await click('Agree');
  expect(await screen.findByText('You have agreed.')).toBeVisible();
  await click('Withdraw it');
  expect(await screen.findByText('You have not agreed.')).toBeVisible();
  expect(desk.state.getState().isOpen).toBe(false);
});

test('the lead sees names with the passphrase alone, by name, with what must stand beside them', async () => {
  const { desk, set } = await opened(NAMES, await realDesk());
  expect(ofLead()).not.toMatch(NAMED);
  await openAsLead('a wrong passphrase');
  await screen.findByText(/^That is not the passphrase/);
  expect(ofLead()).not.toMatch(NAMED);
  await user.clear(screen.getByLabelText('Passphrase of the desk'));
  await user.type(screen.getByLabelText('Passphrase of the desk'), PASSPHRASE);
  await click('Open');
  await screen.findByRole('heading', { name: 'Person: retention' });
  const rows = screen.getAllByRole('rowheader').map(({ textContent }) => textContent);
  expect(rows.slice(0, 3)).toEqual(NAMES);
  expect(ofLead()).toMatch(/nobody is ranked/);
  expect(ofLead()).toMatch(/3\.6 to 11\.4 % a year.*10\.1177\/0022034519827566/);
  expect(ofLead()).toMatch(/not put into these groups at random/);
  // Withdrawn while it stands there: at once, and no two are left alone with the third.
  act(() => set(['Al', 'Bo']));
  expect(ofLead()).not.toMatch(NAMED);
  await screen.findByText(/^the agreement of all dentists, or of all but two or more/);
  expect(ofLead()).not.toMatch(/\b(180|120|60|36|20|8)\b/);
  // Another part of the page closes the desk.
  await click('Close it');
  expect(desk.state.getState().isOpen).toBe(false);
  expect(ofLead()).not.toMatch(/missing/);
});

test('the example has no part for the lead, and leaving the part closes the desk', async () => {
  const { desk, where } = await opened(NAMES);
  await openAsLead();
  await screen.findByRole('heading', { name: 'Person: retention' });
  await click('See an example');
  await screen.findByText(/^Invented example\./);
  await screen.findByRole('heading', { name: /^My own units: .*invented/ }, { timeout: 10_000 });
  expect(screen.queryByRole('heading', { name: /^By person/ })).toBeNull();
  expect(desk.state.getState().isOpen).toBe(false);
  expect(where()).toBe('/');
});
