// @vitest-environment jsdom
/** A pass of light at the chair: what the heading, the clock, the bar and the places say of it. */
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { PassTicks } from '../../src/runtime/cases/pass-ticks.ts';
import { ChairPass, PassAsked } from '../../src/ui/chair/ChairPass.tsx';
import {
  alternatives,
  barModel,
  headingOf,
  nextOffer,
  passAt,
} from '../../src/ui/chair/chair-model.ts';
import { isPassAsked, isSilent, passRows } from '../../src/ui/chair/pass-model.ts';
import { archTeeth, namingOf } from '../../src/ui/shared/arch-model.ts';
import { offerWords } from '../../src/words/offer-words.ts';
import type { Chair } from '../engine/chair.ts';
import { atLight, inPresses, press } from '../engine/light-pass.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

/** Figures do not break from their units. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

const rows = (chair: Chair) =>
  passRows(runningOf(chair)).map(({ name, seconds, words, shape }) =>
    plain([name, seconds, words, shape].join(' | ')),
  );
const bar = (chair: Chair) => {
  const { words, when } = barModel(runningOf(chair)) ?? {};
  return plain([words, when].filter((part) => part !== undefined).join(' | '));
};
const heading = (chair: Chair) => {
  const { doing, subject } = headingOf(runningOf(chair));
  return `${doing} ${subject}`;
};

it('names the place that is lit, then the one that is next, and counts them', () => {
  const chair = atLight(['11', '21']);
  expect(bar(chair)).toBe('Light pass on 11, 21, facial, 2 places');
  press(chair, 'pass-begin');
  chair.at(3000);
  expect([heading(chair), passAt(runningOf(chair)), bar(chair)]).toEqual([
    'expose 11, facial',
    'light on, 1 of 2',
    'Light stopped | 20 s of the pass left',
  ]);
  expect(rows(chair)).toEqual([
    '11, facial | 10 s | now | part',
    '21, facial | 10 s | to come | empty',
  ]);
  chair.at(11_000);
  expect([heading(chair), passAt(runningOf(chair))]).toEqual([
    'expose 21, facial',
    'change to 2 of 2',
  ]);
  expect(rows(chair)[0]).toBe('11, facial | 10 s | paced, not confirmed | full');
  expect(isPassAsked(runningOf(chair))).toBe(false);
});

it('says on each tooth where the pass stands with it, and points at the one that is lit', () => {
  const chair = atLight(['11', '21']);
  const teeth = () =>
    archTeeth(runningOf(chair)).map(({ id, word, active }) => `${id} ${word} ${active}`);
  press(chair, 'pass-begin');
  chair.at(3000);
  expect(teeth()).toEqual(['11 facial true', '21 waiting false']);
  chair.at(14_000);
  expect(teeth()).toEqual(['11 paced, not confirmed false', '21 facial true']);
  chair.at(23_000);
  press(chair, 'pass-confirm');
  expect(teeth()[0]).toMatch(/^11 1 of 2 exposed/);
});

it('says light on again once it was stopped, and beside it what was lit', () => {
  const chair = atLight(['11', '21']);
  press(chair, 'pass-begin');
  chair.at(15_000);
  press(chair, 'pass-stop');
  const running = runningOf(chair);
  expect(bar(chair)).toBe('Light on again, 21, 1 place left');
  const beside = alternatives(running.view.offers).map((o) => offerWords(o, namingOf(running)));
  expect(beside).toEqual(['11 lit, facial']);
  expect(nextOffer(running.view.offers)).toBeUndefined();
  expect(rows(chair)).toEqual([
    '11, facial | 10 s | was lit | full',
    '21, facial | 10 s | cut short | cracked',
  ]);
  expect(isPassAsked(running)).toBe(true);
});

it('names the spot where a surface has several, and the press where a spot has several', () => {
  const plan = { ...inPresses(10, 10), positions: 2 };
  const exposures = { expose: { '11': [plan] } };
  const chair = atLight(['11'], { surfaces: ['facial'], walk: 'by-unit', plan: { exposures } });
  press(chair, 'pass-begin');
  expect(passRows(runningOf(chair)).map(({ name }) => name)).toEqual([
    '11, facial',
    '11, facial, press 2',
    '11, facial, spot 2',
    '11, facial, spot 2, press 2',
  ]);
});

it('takes the tick of a place away with one touch, and the bar says what is left', async () => {
  const chair = atLight(['11', '21']);
  press(chair, 'pass-begin');
  chair.at(23_000);
  expect(bar(chair)).toBe('11, 21 lit, on to lingual, 2 places');
  expect(isPassAsked(runningOf(chair))).toBe(true);
  const session = fakeSession({ running: runningOf(chair) });
  show(<PassAsked running={runningOf(chair)} />, { session });
  const list = screen.getByRole('list', { name: 'Places of this pass' });
  expect(screen.getByText('Untick what was not lit.')).toBeVisible();
  await userEvent.click(within(list).getByRole('button', { name: /^21, facial/ }));
  expect(session.turnPlace).toHaveBeenCalledWith('unit:21 facial 1');

  const ticks = new PassTicks();
  ticks.turn('unit:21 facial 1');
  const one = runningOf(chair, { view: ticks.shown(chair.view) });
  expect(barModel(one)?.words).toBe('11 lit, facial');
  expect(passRows(one)[1]).toMatchObject({ words: 'not lit, stays due', shape: 'struck' });
  ticks.turn('unit:11 facial 1');
  const none = runningOf(chair, { view: ticks.shown(chair.view) });
  expect(barModel(none)?.words).toBe('Nothing was lit');
});

it('says why light is pressed place by place, and lets somebody hear the sound', () => {
  const chair = atLight(['11', '21']);
  expect(isSilent(runningOf(chair))).toBe(false);
  chair.do({ do: 'note-tones', heard: false }, null);
  const session = fakeSession({ running: runningOf(chair) });
  show(<ChairPass running={runningOf(chair)} />, { session });
  expect(screen.getByText(/^One press for each place/)).toBeVisible();
  expect(screen.getByRole('button', { name: 'Play test sound' })).toBeVisible();
});
