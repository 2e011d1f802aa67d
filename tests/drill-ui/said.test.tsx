// @vitest-environment jsdom
// What is said of a drill that was ended, or that could not be drawn.
import { act, cleanup, screen, waitFor } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, test, vi } from 'vitest';
import { Link } from 'wouter';
import { problem } from '../../src/base/problem.ts';
import { err, ok, type Result } from '../../src/base/result.ts';
import { DrillEnded } from '../../src/ui/drill/DrillEnded.tsx';
import { DrillOver } from '../../src/ui/drill/DrillOver.tsx';
import { Today } from '../../src/ui/today/Today.tsx';
import { drillWords } from '../../src/words/drill-words.ts';
import { drillCaseOf } from '../drill/drill-case.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';

const user = userEvent.setup();
const button = (name: string) => screen.queryByRole('button', { name });

test('over the chair it is said why the drill is over, and nothing leads away from there', async () => {
  const session = fakeSession({ drillEnded: { caseId: 'drill-1', isKept: true } });
  show(<DrillEnded ended={{ caseId: 'drill-1', isKept: true }} />, { session, path: '/chair' });
  expect(screen.getByRole('status')).toHaveTextContent(
    'A patient’s case was opened, so the drill was ended. What it came to is under Drills.',
  );
  expect(button('After the drill')).toBeNull();
  await user.click(screen.getByRole('button', { name: 'Seen' }));
  expect(session.store.getState().drillEnded).toBeNull();
});

test('over every other page its debrief is one press away; one that could not be closed has none', async () => {
  const session = fakeSession();
  const { where } = show(<DrillEnded ended={{ caseId: 'drill-1', isKept: true }} />, { session });
  await user.click(screen.getByRole('button', { name: 'After the drill' }));
  expect(where()).toBe('/drill/drill-1');
  cleanup();
  show(<DrillEnded ended={{ caseId: 'drill-1', isKept: false }} />, { session });
  expect(screen.getByRole('status')).toHaveTextContent('It could not be closed');
  expect(button('After the drill')).toBeNull();
});

test('a drill that could not be drawn says so beside its case, and is drawn at the next press', async () => {
  const { spec, protocol, protocolHash: hash } = drillCaseOf('two-veneers');
  let answer: (begun: Result<string, ReturnType<typeof problem>>) => void = () => undefined;
  const begin = vi.fn(() => new Promise<Parameters<typeof answer>[0]>((done) => (answer = done)));
  const session = {
    ...fakeSession({
      prepared: [spec],
      protocols: [{ protocol, hash, origin: 'template', approval: null }],
    }),
    drills: async () => ({ begin }),
  };
  const { where } = show(<Today />, { session });
  const name = 'Drill Two upper central veneers';
  await user.click(await screen.findByRole('button', { name }));
  // While it is drawn its button says so, and a second press draws no other one.
  await user.click(screen.getByRole('button', { name: 'Drawing' }));
  expect(begin).toHaveBeenCalledTimes(1);
  answer(err(problem('planning thread', 'a drill', 'nothing', 'drill-not-answered')));
  expect(await screen.findByText('The drill could not be drawn.')).toBeVisible();
  expect(screen.getByRole('alert')).toHaveTextContent('Nothing was begun. Press Drill again.');
  await user.click(screen.getByRole('button', { name }));
  answer(ok('drill-2'));
  await waitFor(() => expect(where()).toBe('/chair'));
});

test('a case is begun while a drill is being drawn', async () => {
  const { spec, protocol, protocolHash: hash } = drillCaseOf('two-veneers');
  const session = {
    ...fakeSession({
      prepared: [spec],
      protocols: [{ protocol, hash, origin: 'template', approval: null }],
    }),
    drills: async () => ({ begin: () => new Promise(() => undefined) }),
  };
  const { where } = show(<Today />, { session });
  await user.click(await screen.findByRole('button', { name: /^Drill Two/ }));
  await user.click(screen.getByRole('button', { name: /^Begin Two/ }));
  await waitFor(() => expect(where()).toBe('/chair'));
  expect(session.openCase).toHaveBeenCalledTimes(1);
});

/** A window in which a drill runs. */
function drillRuns(drills: () => Promise<unknown>) {
  const etching = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s  confirm ready case
  `);
  const running = runningOf(etching);
  const drill = { seed: 1, toward: [], beginsAtMs: 0 };
  const opened = { ...running.log.state.opened, mode: 'rehearsal', drill } as const;
  const log = { ...running.log, state: { ...running.log.state, opened } };
  return { ...fakeSession({ running: { ...running, log } }), drills } as never;
}

test('a drill that is still worked out does not say that nothing came', () => {
  const session = drillRuns(() => new Promise(() => undefined));
  show(<DrillOver />, { session, path: '/chair' });
  expect(screen.getByText(drillWords.workingOut)).toBeVisible();
  expect(screen.queryByText(drillWords.nothingYet)).toBeNull();
});

test.each([
  ['/far-view', '/drill/case-1'],
  ['/library', '/library'],
])('whoever goes to %s while a drill is ended comes to %s', async (elsewhere, path) => {
  let answer: (ended: Result<null, never>) => void = () => undefined;
  const end = () => new Promise<Parameters<typeof answer>[0]>((done) => (answer = done));
  const course = async () => ok(null);
  const session = drillRuns(async () => ({ end, course }));
  const page = (
    <>
      <DrillOver />
      <Link href={elsewhere}>elsewhere</Link>
    </>
  );
  const { where } = show(page, { session, path: '/chair' });
  await user.click(screen.getByRole('button', { name: drillWords.end }));
  await user.click(screen.getByText('elsewhere'));
  await act(async () => answer(ok(null)));
  expect(where()).toBe(path);
});
