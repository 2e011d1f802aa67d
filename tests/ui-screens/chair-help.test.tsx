// @vitest-environment jsdom
// What the chair says beside the next press: why the step matters, and where a closed case leads.
import { act, screen } from '@testing-library/react';
import { expect, it, vi } from 'vitest';
import { DEFAULT_SETTINGS, type RunningCase } from '../../src/runtime/app-state.ts';
import { ClosedBar } from '../../src/ui/chair/ClosedBar.tsx';
import { ChairSheets } from '../../src/ui/chair/sheets/ChairSheets.tsx';
import { Protocols } from '../../src/ui/protocols/Protocols.tsx';
import { appWords } from '../../src/words/app-words.ts';
import { replanWords } from '../../src/words/plan-words.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const NO_MORE = 'The protocol says no more about this step.';

/** Presses on until the step at hand has, or has not, a reason and cautions. */
function at(o: { readonly why: boolean; readonly cautions: boolean }): RunningCase {
  const chair = FamilyChair.of('veneers, etch-and-rinse');
  const { steps } = chair.log.state.opened.protocol;
  for (let press = 0; press < 300; press += 1) {
    const step = steps.find((s) => s.id === chair.view.offers[0]?.step);
    const isFound =
      step !== undefined &&
      (step.why !== undefined) === o.why &&
      (step.cautions?.length ?? 0) > 0 === o.cautions;
    if (isFound) return runningOf(chair);
    chair.next();
  }
  throw new Error('no step is like this');
}

it.each([
  { why: false, cautions: true, says: false },
  { why: true, cautions: false, says: false },
  { why: false, cautions: false, says: true },
])('"no more about this step" stands only where nothing else does: %o', ({ says, ...like }) => {
  const running = at(like);
  const session = { ...fakeSession({ running }), explainPlan: vi.fn(async () => []) };
  show(<ChairSheets name="why" running={running} onOpen={vi.fn()} onClose={vi.fn()} />, {
    session,
  });
  expect(screen.queryAllByText(NO_MORE)).toHaveLength(says ? 1 : 0);
});

it('the key that ran the case opens its record once the case is closed', () => {
  const { tablet, where } = show(<ClosedBar caseId="case-1" undo={null} />, {
    session: fakeSession(),
    path: '/chair',
  });
  act(() => void tablet.door.verb('press'));
  expect(where()).toBe('/record/case-1');
});

it.each([
  [20_000, 'On plan'],
  [-6 * 60_000, '6 min ahead'],
  [1425 * 60_000, '23 h 45 min behind'],
])('%i ms after the plan is told as %s', (lagMs, words) => {
  const { opened } = at({ why: true, cautions: false }).log.state;
  expect(replanWords({ lagMs, mixes: [] }, opened)?.replaceAll('\u00a0', ' ')).toBe(words);
});

it('the bar of a closed case stays on the side where it was pressed', () => {
  const settings = { ...DEFAULT_SETTINGS, leftHanded: true };
  show(<ClosedBar caseId="case-1" undo={null} />, { session: fakeSession({ settings }) });
  const row = screen.getByRole('button', { name: 'Open the record' }).parentElement;
  expect(row).toHaveAttribute('data-left-handed', 'true');
});

it('a closed case that still stands in the chair is not said to run', () => {
  const closed = at({ why: true, cautions: false });
  const { state } = closed.log;
  const by = { by: 'dentist-a', role: 'dentist', at: closed.view.at } as const;
  const running = { ...closed, log: { ...closed.log, state: { ...state, closed: by } } };
  show(<Protocols />, { session: fakeSession({ running }) });
  expect(screen.queryByText(appWords.running)).toBeNull();
});

it('a case that runs is counted on every page away from the chair', () => {
  const running = at({ why: true, cautions: false });
  show(<Protocols />, { session: fakeSession({ running }) });
  expect(screen.getByText(appWords.running)).toBeInTheDocument();
});
