// @vitest-environment jsdom
// What a screen reader is told and what a keyboard reaches, on every screen: names after the accessible
// name computation (W3C accname 1.2), as Testing Library implements it; one first heading a page
// (WCAG 2.2, 2.4.6); everything that can be pressed is reached with Tab alone (2.1.1).
import { act, screen, waitFor, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import type { ReactNode } from 'react';
import { describe, expect, it, vi } from 'vitest';
import type { AppState, RunningCase } from '../../src/runtime/app-state.ts';
import { Cases } from '../../src/ui/cases/Cases.tsx';
import { Chair as ChairScreen } from '../../src/ui/chair/Chair.tsx';
import { FarView } from '../../src/ui/chair/FarView.tsx';
import { Clinic } from '../../src/ui/clinic/Clinic.tsx';
import { QuickCard } from '../../src/ui/clinic/QuickCard.tsx';
import { Materials } from '../../src/ui/materials/Materials.tsx';
import { ProtocolDetail } from '../../src/ui/protocols/ProtocolDetail.tsx';
import { Protocols } from '../../src/ui/protocols/Protocols.tsx';
import { SetUp } from '../../src/ui/set-up/SetUp.tsx';
import { Today } from '../../src/ui/today/Today.tsx';
import { Chair } from '../engine/chair.ts';
import { caseOf, ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 30_000 });
vi.stubGlobal('__APP_VERSION__', '0.0.0');
// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const spec = { ...caseOf(['11', '21']), title: 'Two veneers' };
const entry = { protocol: ETCH_ROUND, hash: 'abcdef0123', approval: null, origin: 'own' as const };

/** Gel is on 11, 12 of its 20 s have passed, and 21 is next. */
function running(more: Partial<RunningCase> = {}): RunningCase {
  const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s  confirm ready case
    at 1 s  start etch 11
    at 13 s note stopped here
  `);
  return runningOf(chair, more);
}

const prepared: Partial<AppState> = { prepared: [spec], protocols: [entry] };

const SCREENS: readonly (readonly [name: string, part: ReactNode, state: Partial<AppState>])[] = [
  ['Today', <Today key="s" />, prepared],
  ['Set-up', <SetUp key="s" id={undefined} />, prepared],
  ['Chair', <ChairScreen key="s" />, { running: running() }],
  ['Far view', <FarView key="s" />, { running: running() }],
  ['Record', <Cases key="s" />, {}],
  ['Protocols', <Protocols key="s" />, prepared],
  ['Protocol', <ProtocolDetail key="s" id="tiny" />, prepared],
  ['Materials', <Materials key="s" tab="stock" />, {}],
  ['Light', <Materials key="s" tab="light" />, {}],
  ['Clinic', <Clinic key="s" />, {}],
  ['Quick card', <QuickCard key="s" />, {}],
];

const CONTROLS =
  'a[href], button, input, select, textarea, [tabindex="0"], [role="img"], [role="timer"], svg:not([aria-hidden="true"])';

/** A group of radio buttons is one stop of the keyboard. */
function stops(): Element[] {
  const seen = new Set<string>();
  return [
    ...document.querySelectorAll('a[href], button:enabled, input:enabled, select, textarea'),
  ].filter((element) => {
    // One of a set that the arrow keys walk through.
    if (element.getAttribute('tabindex') === '-1') return false;
    if (!(element instanceof HTMLInputElement) || element.type !== 'radio') return true;
    if (seen.has(element.name)) return false;
    seen.add(element.name);
    return true;
  });
}

/** Waits until the parts that are loaded later stand there too. */
async function settled(): Promise<void> {
  const count = (): number => document.querySelectorAll(CONTROLS).length;
  for (let before = -1; before !== count(); ) {
    before = count();
    await act(() => new Promise((resolve) => setTimeout(resolve, 120)));
  }
}

describe.each(SCREENS)('%s', (name, part, state) => {
  it('has one first heading, and a name for everything that can be pressed or looked at', async () => {
    show(part, { session: fakeSession(state) });
    await waitFor(() => expect(screen.getAllByRole('heading', { level: 1 })).toHaveLength(1));
    await settled();
    const controls = [...document.querySelectorAll(CONTROLS)].filter(
      (element) => element.closest('[aria-hidden="true"]') === null,
    );
    expect(controls.length).toBeGreaterThan(0);
    for (const control of controls) expect(control).toHaveAccessibleName();
    expect(screen.getAllByRole('main')).toHaveLength(1);
  });

  it('is reached whole with the Tab key', async () => {
    show(part, { session: fakeSession(state) });
    await screen.findByRole('main');
    await settled();
    const wanted = stops();
    // The far view takes no press of the case: the way to the emergency cards stands there alone.
    expect(wanted.length > 1).toBe(name !== 'Far view');
    expect(wanted.length).toBeGreaterThan(0);
    const reached = new Set<Element>();
    for (let press = 0; press < wanted.length + 20; press += 1) {
      await userEvent.tab();
      const focused = document.activeElement;
      if (focused !== null && focused !== document.body) reached.add(focused);
    }
    const isReached = (element: Element): boolean =>
      reached.has(element) ||
      // Any button of a group of radio buttons stands for the group.
      [...reached].some(
        (other) =>
          element instanceof HTMLInputElement &&
          other instanceof HTMLInputElement &&
          element.type === 'radio' &&
          other.name === element.name,
      );
    const missed = wanted.filter((element) => !isReached(element));
    expect(missed.map((element) => element.outerHTML.slice(0, 120))).toEqual([]);
  });
});

describe('the chair by keyboard alone', () => {
  const press = { press: 2, untilRealMs: 10_000 };

  it('names step, clock, teeth and bar', () => {
    show(<ChairScreen />, { session: fakeSession({ running: running() }) });
    expect(screen.getByRole('main', { name: 'Chair' })).toBeVisible();
    expect(screen.getByRole('timer')).toHaveAccessibleName(/^etch 11.*0:08 to target/i);
    const teeth = screen.getByRole('region', { name: 'Teeth of this case' });
    expect(within(teeth).getByRole('img', { name: /^Tooth 11/ })).toBeVisible();
    expect(screen.getByRole('list', { name: /tablet/i })).toHaveTextContent('SAVED');
  });

  it('presses the bar with Enter, once for one press', async () => {
    const session = fakeSession({ running: running() });
    show(<ChairScreen />, { session });
    const bar = document.querySelector<HTMLButtonElement>('.lw-bar');
    expect(bar).not.toBeNull();
    bar?.focus();
    await userEvent.keyboard('{Enter}');
    // The bar means what it shows: the case knows what that is.
    expect(session.pressNext).toHaveBeenCalledOnce();
  });

  it('takes back what undo says, and says nothing can be undone otherwise', async () => {
    const session = fakeSession({ running: running({ undo: press }) });
    show(<ChairScreen />, { session });
    const undo = screen.getByRole('button', { name: /^Undo/ });
    undo.focus();
    await userEvent.keyboard(' ');
    expect(session.do).toHaveBeenCalledWith({ do: 'undo' });
  });

  it('opens More and names what is behind it', async () => {
    show(<ChairScreen />, { session: fakeSession({ running: running() }) });
    await userEvent.click(screen.getByRole('button', { name: 'More' }));
    const sheet = await screen.findByRole('dialog', { name: 'More' });
    for (const name of [
      'Went wrong',
      'Other steps',
      'Note',
      'Wipe the screen',
      'Leave the chair',
    ]) {
      expect(within(sheet).getByRole('button', { name })).toBeVisible();
    }
  });
});
