/** While the screen is wiped a key or a pedal ends it as the button does: held, not brushed over. */
import { act, fireEvent, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { AppState } from '../../src/runtime/app-state.ts';
import { ChairEmpty } from '../../src/ui/chair/ChairEmpty.tsx';
import { WipeLock } from '../../src/ui/chair/WipeLock.tsx';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

const pass = (ms: number) => act(() => vi.advanceTimersByTime(ms));

function shown() {
  const onEnd = vi.fn();
  show(<WipeLock onEnd={onEnd} />, { session: fakeSession() });
  return onEnd;
}

it.each([' ', 'PageDown', 'b'])('ends when the key "%s" is held, wherever the focus is', (key) => {
  const onEnd = shown();
  fireEvent.keyDown(document.body, { key });
  pass(1400);
  fireEvent.keyDown(document.body, { key, repeat: true });
  expect(onEnd).not.toHaveBeenCalled();
  pass(200);
  expect(onEnd).toHaveBeenCalledOnce();
});

it('does not end when keys are brushed over, one after another or together', () => {
  const onEnd = shown();
  for (let n = 0; n < 5; n += 1) {
    fireEvent.keyDown(document.body, { key: ' ' });
    pass(500);
    fireEvent.keyUp(document.body, { key: ' ' });
  }
  fireEvent.keyDown(document.body, { key: 'a' });
  fireEvent.keyDown(document.body, { key: 's' });
  pass(5000);
  expect(onEnd).not.toHaveBeenCalled();
});

it('says that a key or the pedal may be held', () => {
  shown();
  expect(screen.getByRole('alertdialog')).toHaveTextContent(/pedal/);
});

const openCase = (mode: 'patient' | 'rehearsal') =>
  ({
    caseId: 'case-7',
    specId: 's',
    title: 'Two veneers',
    chartRef: 'SB-7',
    mode,
    closedByPress: null,
    openedWallMs: NOW_MS,
    lastStamp: { wallMs: NOW_MS, monoMs: 0, runId: 'r' },
  }) as unknown as AppState['cases'][number];

it('says of a rehearsal that it is not finished, and once when it was begun', () => {
  show(<ChairEmpty />, {
    session: fakeSession({ cases: [openCase('rehearsal')] }),
    path: '/chair',
  });
  expect(screen.getByRole('heading', { name: 'A rehearsal is not finished.' })).toBeVisible();
  expect(screen.getAllByText(/started/i)).toHaveLength(1);
  expect(document.body.textContent?.match(/started/gi)).toHaveLength(1);
});

it('goes on by key or pedal from the chair that was loaded anew, with the case its button names', async () => {
  vi.useRealTimers();
  const open = openCase('patient');
  const session = fakeSession({ cases: [open] });
  const { tablet, where } = show(<ChairEmpty />, { session, path: '/chair' });
  await screen.findByRole('button', { name: 'Go on with Two veneers' });
  expect(screen.getByRole('heading', { name: 'The clocks are still running.' })).toBeVisible();
  act(() => void tablet.door.verb('press'));
  await vi.waitFor(() => expect(session.resumeCase).toHaveBeenCalledWith('case-7'));
  expect(where()).toBe('/chair');
});
