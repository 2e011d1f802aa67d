// @vitest-environment jsdom
/** The lines of a list at the chair: what each shows, asks and hands to the press. */
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { ListDraft } from '../../src/engine/list-draft.ts';
import { isTaken, lineKey } from '../../src/engine/list-draft.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { StockState } from '../../src/runtime/stock/stock.ts';
import { ChairList } from '../../src/ui/chair/ChairList.tsx';
import { barModel, headingOf, listInHand, takenOfList } from '../../src/ui/chair/chair-model.ts';
import { listRows } from '../../src/ui/chair/list-model.ts';
import { ChairSheets } from '../../src/ui/chair/sheets/ChairSheets.tsx';
import { Chair } from '../engine/chair.ts';
import { confirm, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { caseNamed, FamilyChair, protocolNamed } from '../families/family-chair.ts';
import { withList } from '../tools/pressed-protocol.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

const PAUSE = { id: 'pause', title: 'Opening pause', words: 'Opening pause read' };
const LINES = [
  'read-teeth',
  'read-protocol',
  'read-materials',
  'read-allergies',
  'read-people',
  'signals',
  'charge',
  'eyes-covered',
  'light-checked',
];

function atPause(): FamilyChair {
  const spec = caseNamed('two-veneers');
  const protocol = withList(protocolNamed(spec.protocol), PAUSE, LINES);
  const chair = new FamilyChair({ spec, protocol, pressed: 'as-shipped' }, NOW_MS);
  for (let i = 0; i < 5 && chair.view.offers[0]?.kind !== 'list'; i += 1) chair.next();
  return chair;
}

/** A session that keeps the drafts of the lines, and draws the list anew with them. */
function listed(chair: FamilyChair, stock: Partial<StockState> = {}) {
  const running = runningOf(chair);
  const session = fakeSession({ running });
  const { state } = session.stock;
  session.stock.state = createStore<StockState>(() => ({ ...state.getState(), ...stock }));
  session.keepLine.mockImplementation((line, draft) => {
    const now = session.store.getState().running;
    if (now === null) return;
    const answers: ListDraft = { ...now.answers, [lineKey(line)]: draft };
    session.store.setState({ running: { ...now, answers } });
  });
  const now = (): RunningCase => session.store.getState().running ?? running;
  return { session, now };
}

/** What the bar would press, step by step. */
const pressed = (running: RunningCase) => {
  const list = listInHand(running);
  const taken = list === null ? [] : takenOfList(running, list);
  return taken.map(({ step, evidence, option }) =>
    [step, evidence ?? option ?? ''].join(' ').trim(),
  );
};

const row = (name: RegExp) => {
  const tick = screen.getByRole('button', { name });
  return within(tick.closest('li') ?? tick);
};

it('shows what is read aloud, ticked from the beginning, and what wants an answer, open', () => {
  const chair = atPause();
  const { session, now } = listed(chair);
  show(<Live session={session} />, { session });
  const { protocol } = chair.log.state.opened;
  const lines = listInHand(now())?.lines ?? [];
  expect(lines).toHaveLength(LINES.length);
  for (const line of lines) {
    const title = protocol.steps.find(({ id }) => id === line.step)?.title ?? '';
    const tick = screen.getByRole('button', { name: title });
    expect(tick).toHaveAttribute('aria-pressed', String(isTaken(line)));
    if (line.wants === null) expect(tick).toBeEnabled();
    else expect(tick).toBeDisabled();
  }
  expect(headingOf(now())).toEqual({ doing: 'Opening pause' });
  expect(barModel(now())?.words).toMatch(/^Opening pause read, 6 of 9/);
  // The revision is read from the protocol and stands there to be read aloud.
  expect(screen.getByText(new RegExp(protocol.title))).toBeVisible();
});

it('takes a number within its bounds, and says place, expectation and finding of another', async () => {
  const { session, now } = listed(atPause());
  show(<Live session={session} />, { session });
  const charge = row(/charge/i);
  const field = charge.getByRole('textbox');
  await userEvent.type(field, '92');
  expect(pressed(now())).toContain('charge 92 %');
  await userEvent.clear(field);
  expect(pressed(now()).join()).not.toMatch(/charge/);
  await userEvent.type(field, 'full');
  expect(charge.getByText(/: expected a number from .* to .* %, got "full"\.$/)).toBeVisible();
  expect(pressed(now()).join()).not.toMatch(/charge/);
  await userEvent.clear(field);
  await userEvent.type(field, '400');
  expect(charge.getByText(/: expected .* to .* %, got 400\./)).toBeVisible();
  expect(pressed(now()).join()).not.toMatch(/charge/);
  // What the meter showed may be recorded all the same, by hand.
  await userEvent.click(screen.getByRole('button', { name: /charge/i }));
  expect(pressed(now()).join()).toMatch(/charge 400 % \(expected/);
});

it('leaves a line that is unticked, and takes its answer away with its chip', async () => {
  const { session, now } = listed(atPause());
  show(<Live session={session} />, { session });
  await userEvent.click(screen.getByRole('button', { name: /allerg/i }));
  expect(pressed(now())).not.toContain('read-allergies');
  const chips = row(/^sound, pedal$/i)
    .getAllByRole('button')
    .slice(1);
  const [chip] = chips;
  if (chip === undefined) throw new Error('no chip');
  await userEvent.click(chip);
  expect(pressed(now())).toContain(`signals ${chip.textContent}`);
  await userEvent.click(chip);
  expect(pressed(now()).join()).not.toMatch(/signals/);
});

it('has the reading of this day already, and does not put it back once it was taken away', async () => {
  const chair = atPause();
  const { light } = chair.log.state.opened.spec;
  const reading = {
    id: 'r1',
    light: light.label,
    instrument: 'meter 1',
    onWallMs: NOW_MS - 600_000,
    irradianceMwPerCm2: 1180,
    isBaseline: false,
  };
  const old = { ...reading, id: 'r0', onWallMs: NOW_MS - 2 * 86_400_000, irradianceMwPerCm2: 900 };
  const { session, now } = listed(chair, { readings: [old, reading] });
  show(<Live session={session} />, { session });
  expect(pressed(now()).join()).toMatch(/light-checked 1180 mW\/cm²/);
  const field = row(/light/i).getByRole('textbox');
  expect(field).toHaveValue('1180');
  await userEvent.clear(field);
  expect(field).toHaveValue('');
  expect(pressed(now()).join()).not.toMatch(/light-checked/);
});

function Live({ session }: { readonly session: ReturnType<typeof fakeSession> }) {
  const running = useStore(session.store, (s) => s.running);
  return running && <ChairList running={running} />;
}

it('names whom a line is about where that is not all that its step is done to', () => {
  const onList = { pressed: { kind: 'list', list: 'pause' } } as const;
  const protocol = protocolOf(
    [
      step('look', 'unit', confirm, { ...onList, together: true }),
      step('fit', 'unit', confirm, onList),
    ],
    { lists: [PAUSE] },
  );
  const chair = new Chair(settingOf(protocol, ['11', '12']));
  const titles = listRows(runningOf(chair), []).map(({ title }) => title);
  expect(titles).toEqual(['look', 'fit 11', 'fit 12']);
});

it('lets one line be skipped with a reason, and leaves the others', async () => {
  // jsdom has no modal dialogs.
  HTMLDialogElement.prototype.showModal = function showModal() {
    this.setAttribute('open', '');
  };
  const running = runningOf(atPause());
  const session = fakeSession({ running });
  const nothing = () => undefined;
  show(<ChairSheets name="other-steps" running={running} onOpen={nothing} onClose={nothing} />, {
    session,
  });
  await userEvent.click(screen.getByRole('button', { name: 'Skip with a reason: Tablet charge' }));
  await userEvent.type(screen.getByRole('textbox'), 'on mains');
  await userEvent.click(screen.getByRole('button', { name: 'Skip it' }));
  const skipped = { do: 'skip', step: 'charge', subjects: ['case'], reason: 'on mains' };
  expect(session.do).toHaveBeenCalledWith(skipped);
});
