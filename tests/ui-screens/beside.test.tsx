/** Anaesthesia and counts in the chair: noted in a touch, and told beside the clocks. */
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { replan } from '../../src/plan/replan.ts';
import type { Action } from '../../src/protocol/types.ts';
import { restLine, waitLine } from '../../src/ui/chair/beside-model.ts';
import { ChairBeside } from '../../src/ui/chair/ChairBeside.tsx';
import { ChairInjection } from '../../src/ui/chair/sheets/ChairInjection.tsx';
import { countedWords } from '../../src/words/beside-words.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, dwell, protocolOf, settingOf, step, window } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const MINUTE_MS = 60_000;
const reading = (equals?: string): Action => ({
  kind: 'confirm',
  evidence: {
    kind: 'reading',
    label: 'Cords',
    unit: 'pieces',
    min: 0,
    max: 9,
    ...(equals === undefined ? {} : { equals }),
  },
});
const PROTOCOL = protocolOf([
  step('cord-in', 'case', reading()),
  step('rinse', 'tooth', confirm, { after: ['cord-in'], mayHurt: true }),
  step('cord-out', 'case', reading('cord-in'), { after: ['rinse'] }),
]);

function chairOf(): Chair {
  return new Chair(settingOf(PROTOCOL, ['11', '21']));
}

const press = (chair: Chair, name: string, subject: string, evidence?: string) =>
  chair.do({
    do: 'press',
    offer: { kind: 'confirm', step: name, subjects: [subject] },
    ...(evidence === undefined ? {} : { evidence }),
  });

function besideOf(chair: Chair) {
  const session = fakeSession();
  const onNote = vi.fn();
  show(<ChairBeside running={runningOf(chair)} onNote={onNote} />, { session });
  return { onNote };
}

describe('an injection', () => {
  it('is noted in one touch for the teeth of the case, and later as it was the last time', async () => {
    const chair = chairOf();
    const session = fakeSession();
    session.do.mockImplementation((command) => chair.do(command));
    show(<ChairInjection running={runningOf(chair)} onClose={vi.fn()} />, { session });
    expect(screen.getByText('Take the shade before the injection.')).toBeVisible();
    await userEvent.selectOptions(screen.getByLabelText('Agent'), 'articaine-100');
    await userEvent.click(screen.getByRole('button', { name: '21' }));
    await userEvent.type(screen.getByLabelText(/^mL/), '1,8');
    await userEvent.click(screen.getByRole('button', { name: 'Injected now' }));
    const given = { agent: 'articaine-100', technique: 'upper-infiltration', teeth: ['11'] };
    expect(chair.log.state.injections).toMatchObject([{ ...given, ml: 1.8 }]);
  });

  it('asks for a number where mL are no number, and says that no dose is computed', async () => {
    const session = fakeSession();
    show(<ChairInjection running={runningOf(chairOf())} onClose={vi.fn()} />, { session });
    await userEvent.type(screen.getByLabelText(/^mL/), 'two');
    expect(screen.getByRole('button', { name: 'Injected now' })).toBeDisabled();
    expect(screen.getByText(/No dose is computed here/)).toBeVisible();
  });

  it('warns with what is still to come, and offers the top-up there', async () => {
    const chair = chairOf();
    const given = { agent: 'lidocaine-100', technique: 'upper-infiltration', teeth: ['11', '21'] };
    chair.do({ do: 'give-anaesthesia', given });
    chair.at(32 * MINUTE_MS);
    const { onNote } = besideOf(chair);
    expect(screen.getByText(/32\smin have passed.*Still to come: rinse/)).toBeVisible();
    expect(
      screen.getByText(/^Upper infiltration, 11, 21; pulp about 39\smin; lip 3\sh to 5\sh$/),
    ).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Note a top-up' }));
    expect(onNote).toHaveBeenCalledOnce();
  });

  it('tells at the end until when the lip is numb', () => {
    const chair = chairOf();
    press(chair, 'cord-in', 'case', '1 pieces');
    const given = { agent: 'articaine-200', technique: 'upper-infiltration', teeth: ['11'] };
    chair.do({ do: 'give-anaesthesia', given });
    for (const tooth of ['11', '21']) press(chair, 'rinse', `tooth:${tooth}`);
    press(chair, 'cord-out', 'case', '1 pieces');
    chair.rows('sign-off dentist-a');
    besideOf(chair);
    expect(screen.getByText(/^Lip numb until about \d\d:\d\d: do not bite it\.$/)).toBeVisible();
  });
});

describe('cords', () => {
  it('are told with their minutes while they are in, and loudly when one is missing', () => {
    const chair = chairOf();
    press(chair, 'cord-in', 'case', '2 pieces');
    chair.at(7 * MINUTE_MS);
    besideOf(chair);
    expect(screen.getByText(/^Cords: 2 in, for 7\smin$/)).toBeVisible();
    for (const tooth of ['11', '21']) press(chair, 'rinse', `tooth:${tooth}`);
    press(chair, 'cord-out', 'case', '1 pieces');
    besideOf(chair);
    expect(screen.getByText('Cords: 2 in, 1 out. Look for it before you sign.')).toBeVisible();
  });
});

describe('pieces whose number nobody noted', () => {
  it('are asked for while they are in, and nothing is claimed of them', () => {
    const chair = chairOf();
    press(chair, 'cord-in', 'case');
    chair.at(7 * MINUTE_MS);
    besideOf(chair);
    expect(
      screen.getByText(/^Cords: no number noted, 7\smin ago[.] How many are in[?]$/),
    ).toBeVisible();
  });

  it('are looked for once they are out; the numbers are not said to differ', () => {
    const chair = chairOf();
    press(chair, 'cord-in', 'case');
    for (const tooth of ['11', '21']) press(chair, 'rinse', `tooth:${tooth}`);
    press(chair, 'cord-out', 'case', '3 pieces');
    besideOf(chair);
    const words = 'Cords: in not noted, out 3. Look whether any is left before you sign.';
    expect(screen.getByText(words)).toBeVisible();
    const count = { title: 'Cords', in: null, out: 3, isEven: false };
    expect(countedWords(count, { isSigned: true })).toBe('Cords: in not noted, out 3.');
  });
});

it('the rest line says now, or the next moment of the plan and what it lies before', () => {
  const chair = chairOf();
  const none = { nextRest: null, nextRinse: null };
  expect(restLine(runningOf(chair), none)).toBe('The patient may rest or rinse now, 5 min.');

  // While an etch acts there is no rest: the next moment of the plan is told.
  const etching = protocolOf([
    step('etch', 'tooth', {
      kind: 'dwell',
      targetMs: { value: 20_000, basis: { kind: 'practice' } },
    }),
    step('dry', 'tooth', confirm, { after: ['etch'] }),
  ]);
  const acting = new Chair(settingOf(etching, ['11']));
  acting.rows('at 1 s start etch 11');
  const next = (atMs: number) => ({ atMs, step: 'dry', subjects: ['tooth:11'], mayRinse: false });
  const told = (atMs: number): string =>
    restLine(runningOf(acting), { nextRest: next(atMs), nextRinse: null });
  expect(told(150_000)).toBe('Next rest: before “dry, 11”, in about 2 min.');
  expect(told(40_000)).toBe('Next rest: before “dry, 11”, in less than a minute.');
  expect(told(1000)).toBe('Next rest: before “dry, 11”, in less than a minute.');
});

describe('what the plan puts off although it may be pressed', () => {
  const WARM_MS = 1_200_000;
  const warming = protocolOf(
    [
      step('out', 'case', confirm),
      step('etch', 'tooth', dwell(15, 20, 30), { after: ['out'], title: 'Etch', hands: [4, 4] }),
      step('adhesive', 'case', confirm, { after: ['out'] }),
      step('bond', 'tooth', confirm, { after: ['etch', 'adhesive'] }),
    ],
    {
      windows: [
        {
          ...window('warm', 'out/end -> adhesive/end', { minS: WARM_MS / 1000 }),
          title: 'Warm-up, adhesive',
          protects: 'warm',
        },
        window('wet', 'etch/end -> bond/start', { maxS: 120 }),
      ],
    },
  );

  it('is said with the minutes and with what runs until then, and not once it is time', () => {
    const chair = new Chair(settingOf(warming, ['11']));
    chair.rows('at 1 s next');
    const found = replan({
      state: chair.log.state,
      nowMs: 1000,
      openingEndMs: 0,
      risk: { samples: 4 },
    });
    expect(waitLine(runningOf(chair), found)?.replaceAll('\u00a0', ' ')).toBe(
      'The plan begins “Etch, 11” in about 17 min: “Warm-up, adhesive” is still running.',
    );
    // The etch may end 120 s before the adhesive is warm.
    chair.at(WARM_MS - 100_000);
    expect(waitLine(runningOf(chair), found)).toBeNull();
    chair.rows(
      `at ${WARM_MS / 1000 - 90} s start etch 11\nat ${WARM_MS / 1000 - 70} s end etch 11`,
    );
    expect(waitLine(runningOf(chair), found)).toBe('“adhesive” waits for “Warm-up, adhesive”.');
    chair.at(WARM_MS + 1000);
    expect(waitLine(runningOf(chair), found)).toBeNull();
  });
});
