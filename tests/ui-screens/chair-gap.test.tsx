// @vitest-environment jsdom
// What the chair asks about a time in which nobody watched the clocks.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import { ChairCues } from '../../src/ui/chair/ChairCues.tsx';
import { ChairGap } from '../../src/ui/chair/ChairGap.tsx';
import { archTeeth } from '../../src/ui/shared/arch-model.ts';
import { offerWhen } from '../../src/words/offer-when-words.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 20_000 });

/** An etch that runs; the app was closed for 20 s. */
function etching(device: string): RunningCase {
  const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
    at 0 s    confirm ready case
    at 0 s    start etch 11
    at 10 s   note here
              ${device}
              note back
  `);
  return {
    caseId: 'case-1',
    log: chair.log,
    view: chair.view,
    now: chair.stamp,
    pending: 0,
    unsaved: 0,
    undo: null,
    refusal: null,
    speed: 1,
    by: 'dentist-a',
    isViewOnly: false,
    isStale: false,
    typed: null,
    answers: {},
  };
}

const setBack = () => etching('wall -1 h\nreload 20 s');

describe('a gap whose length nobody knows', () => {
  it('is asked for with no answer given beforehand, and settled at what people say', async () => {
    const session = fakeSession();
    const running = setBack();
    show(<ChairGap running={running} />, { session });
    expect(screen.getByText(/closed for an unknown time/)).toBeVisible();
    expect(screen.queryByRole('button', { name: 'So long' })).toBeNull();
    const more = screen.getByRole('button', { name: 'More Time away' });
    for (let i = 0; i < 4; i += 1) await userEvent.click(more);
    expect(screen.getByText('20 s')).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'So long' }));
    const gap = running.log.state.gaps[0]?.seq;
    expect(session.do).toHaveBeenCalledExactlyOnceWith({ do: 'settle-gap', gap, lengthMs: 20_000 });
  });

  it('may have been none at all, if people say so', async () => {
    const session = fakeSession();
    show(<ChairGap running={setBack()} />, { session });
    await userEvent.click(screen.getByRole('button', { name: 'Less Time away' }));
    expect(screen.getByText('No time passed')).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'So long' }));
    expect(session.do).toHaveBeenCalledWith(expect.objectContaining({ lengthMs: 0 }));
  });

  it('has an alert without a made-up age, a bar and a tooth that say what may be', () => {
    const running = setBack();
    show(<ChairCues running={running} />, { session: fakeSession() });
    expect(screen.getByText('since when is not known')).toBeVisible();
    expect(screen.getByText('etch: perhaps over the limit')).toBeVisible();
    const end = running.view.offers.find((o) => o.kind === 'end');
    expect(end && offerWhen({ ...end, dueInMs: 0 })).toBe('perhaps over');
    expect(archTeeth(running).map((t) => t.word)).toEqual(['over?']);
  });
});

it('a gap of which the clock tells the length is asked about as before', async () => {
  const session = fakeSession();
  show(<ChairGap running={etching('reload 20 s')} />, { session });
  await userEvent.click(screen.getByRole('button', { name: 'Yes, all of it' }));
  expect(session.do).toHaveBeenCalledWith(expect.objectContaining({ lengthMs: 20_000 }));
  expect(screen.queryByRole('button', { name: 'More Time away' })).toBeNull();
});
