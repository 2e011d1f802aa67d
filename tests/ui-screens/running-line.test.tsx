// @vitest-environment jsdom
// The one line by which a case that runs is seen while people look at another page.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { RunningLine } from '../../src/ui/chair/RunningLine.tsx';
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
