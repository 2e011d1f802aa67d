// @vitest-environment jsdom
// The one line by which a case that runs is seen while people look at another page.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it, vi } from 'vitest';
import { RunningLine } from '../../src/ui/chair/RunningLine.tsx';
import { runningLineWords } from '../../src/words/running-line-words.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

it('names the chart, what is in hand and its count, and leads to the chair', async () => {
  const etching = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s  confirm ready case
    at 1 s  start etch 11
    at 13 s note stopped here
  `);
  const running = runningOf(etching);
  const { where } = show(<RunningLine />, { session: fakeSession({ running }) });
  const line = screen.getByRole('button', {
    name: new RegExp(running.log.state.opened.spec.chartRef),
  });
  // Begun at 1 s, looked at 13 s later than the opening: 12 of 20 s have passed.
  expect(line).toHaveTextContent('0:08 to target');
  await userEvent.click(line);
  expect(where()).toBe('/chair');
});

/** A page while a drill runs. */
function drillRuns(drills: () => Promise<unknown>) {
  const etching = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s  confirm ready case
  `);
  const running = runningOf(etching);
  const { opened } = running.log.state;
  const drill = { seed: 1, toward: [], beginsAtMs: 0 };
  const state = { ...running.log.state, opened: { ...opened, mode: 'rehearsal', drill } as const };
  const session = fakeSession({ running: { ...running, log: { ...running.log, state } } });
  return { caseId: running.caseId, session: { ...session, drills } as never };
}

it('says of a drill that it is one, and ends it instead of leaving it half done', async () => {
  const end = vi.fn(async () => ({ ok: true, value: null }));
  const { caseId, session } = drillRuns(async () => ({ end }));
  const { where } = show(<RunningLine />, { session });
  expect(screen.getByText(runningLineWords.drill)).toBeTruthy();
  expect(screen.queryByRole('button', { name: runningLineWords.stop })).toBeNull();
  await userEvent.click(screen.getByRole('button', { name: runningLineWords.endDrill }));
  expect(end).toHaveBeenCalledTimes(1);
  expect(where()).toBe(`/drill/${caseId}`);
});

it('leads to the chair where what ends a drill does not come', async () => {
  const { session } = drillRuns(async () => Promise.reject(new Error('not loaded')));
  const { where } = show(<RunningLine />, { session });
  await userEvent.click(screen.getByRole('button', { name: runningLineWords.endDrill }));
  expect(where()).toBe('/chair');
});
