/** A tablet whose pages of follow-up are drawn from a journal in memory: what is tapped is really noted. */
import { fireEvent, screen, within } from '@testing-library/react';
import { Suspense } from 'react';
import { createStore } from 'zustand/vanilla';
import type { BondedCase } from '../../src/outcomes/follow-up-types.ts';
import type { PeopleState } from '../../src/runtime/library/clinic-people.ts';
import { FollowUp } from '../../src/ui/follow-up/FollowUp.tsx';
import { must } from '../backup/filled-journal.ts';
import { bonded, keepBonded, type WithFollowUps, withFollowUps } from '../follow-up/clinic.ts';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';

export const CASE = 'case-1';

// jsdom has dialogs, but cannot open them.
HTMLDialogElement.prototype.showModal = function showModal(): void {
  this.open = true;
};
HTMLDialogElement.prototype.close = function close(): void {
  this.open = false;
};

/** A tablet on which one case was bonded on 1 January 2026. The clinic's day is 1 December 2026. */
export async function oneCase(change: Partial<BondedCase> = {}): Promise<WithFollowUps> {
  const tablet = await withFollowUps('tablet-a');
  await keepBonded(tablet, { caseId: CASE, said: bonded(change) });
  must(await tablet.followUps.open());
  return tablet;
}

/** The same tablet after what came from elsewhere was stored: its window reads everything anew. */
export async function reopened(tablet: WithFollowUps): Promise<WithFollowUps> {
  const followUps = tablet.anew();
  must(await followUps.open());
  return { ...tablet, followUps };
}

export function sessionOn({ followUps, store }: WithFollowUps, people: PeopleState['people'] = []) {
  const session = fakeSession();
  return {
    ...session,
    followUps: async () => followUps,
    saveSettings: async (settings: Parameters<typeof session.saveSettings>[0]) => {
      store.setState({ settings });
      return session.saveSettings(settings);
    },
    people: { ...session.people, state: createStore<PeopleState>(() => ({ people })) },
  } as unknown as ReturnType<typeof fakeSession>;
}

/** Draws the pages of follow-up at a path. */
export function showAt(
  tablet: WithFollowUps,
  path: string,
  people: PeopleState['people'] = [{ name: 'Dr Ilves', role: 'dentist' }],
) {
  const screenOf = (
    <Suspense>
      <FollowUp />
    </Suspense>
  );
  return show(screenOf, { session: sessionOn(tablet, people), path });
}

/** What a test does: taps only, and counts them. */
export function taps() {
  let count = 0;
  const tap = async (role: 'button' | 'link', name: string | RegExp): Promise<void> => {
    fireEvent.click(await screen.findByRole(role, { name }));
    count += 1;
  };
  return { tap, counted: () => count };
}

/** The part of the form that is about one unit. */
export const unitOf = (label: string) => within(screen.getByRole('listitem', { name: label }));

export const type = (field: HTMLElement, value: string): void => {
  fireEvent.change(field, { target: { value } });
};

export const rowOf = ({ followUps }: WithFollowUps) => {
  const [row] = followUps.state.getState().list;
  if (row === undefined) throw new Error('nothing is followed');
  return row;
};
