/** Several things at one pause: what is offered, what a press of it records. */
import { expect, it } from 'vitest';
import { takenNow } from '../../src/engine/list-offers.ts';
import { Chair } from './chair.ts';
import { choose, confirm, protocolOf, settingOf, step } from './fixture.ts';

const onList = { pressed: { kind: 'list', list: 'pause' } } as const;

const PAUSE = protocolOf(
  [
    step('shades', 'case', confirm, onList),
    step('fit', 'unit', choose({ id: 'good' }, { id: 'poor' }), onList),
    step('begin', 'case', confirm, { after: ['shades', 'fit'] }),
  ],
  { lists: [{ id: 'pause', title: 'Opening pause', words: 'Pause read' }] },
);

it('is offered once, with a line for each subject, and what each wants', () => {
  const chair = new Chair(settingOf(PAUSE, ['11', '12']));
  expect(chair.view.offers).toHaveLength(1);
  expect(chair.view.offers[0]).toMatchObject({ kind: 'list', list: 'pause' });
  const lines = chair.view.offers[0]?.lines?.map((l) => `${l.step} ${l.subjects} ${l.wants}`);
  expect(lines).toEqual(['shades case null', 'fit unit:11 option', 'fit unit:12 option']);
});

it('takes a line with its own answer and leaves the others', () => {
  const chair = new Chair(settingOf(PAUSE, ['11', '12']));
  const [offer] = chair.view.offers;
  if (offer === undefined) throw new Error('nothing is offered');
  const taken = [{ step: 'fit', subjects: ['unit:12'], option: 'good' }];
  expect(chair.do({ do: 'press', offer: { ...offer, taken } })).toBeNull();
  expect(['shades@case', 'fit@unit:11', 'fit@unit:12'].map((key) => chair.status(key))).toEqual([
    'none',
    'none',
    'done',
  ]);
});

it('refuses a press that takes nothing, and says which line wants an answer', () => {
  const chair = new Chair(settingOf(PAUSE, ['11', '12']));
  const [offer] = chair.view.offers;
  if (offer === undefined) throw new Error('nothing is offered');
  expect(chair.do({ do: 'press', offer: { ...offer, taken: [] } })).toMatchObject({
    code: 'nothing-taken',
    values: { list: 'Opening pause', line: 'fit' },
  });
});

it('takes nothing that an open line before it holds back, and says so beforehand', () => {
  const inOrder = protocolOf(
    [
      step('counted', 'case', choose({ id: 'six' }, { id: 'five' }), onList),
      step('closed', 'case', confirm, { ...onList, after: ['counted'] }),
      step('noted', 'case', confirm, onList),
    ],
    { lists: [{ id: 'pause', title: 'Closing pause', words: 'Pause read' }] },
  );
  const chair = new Chair(settingOf(inOrder, ['11']));
  const [offer] = chair.view.offers;
  const line = (id: string, option?: string) => ({
    step: id,
    subjects: ['case'],
    ...(option === undefined ? {} : { option }),
  });
  const ticked = [line('closed'), line('noted')];
  const { state } = chair.log;
  const told = (lines: typeof ticked) => takenNow(state, chair.view.at, lines).map((l) => l.step);
  expect(told(ticked)).toEqual(['noted']);
  expect(told([line('counted', 'six'), ...ticked])).toEqual(['counted', 'closed', 'noted']);
  if (offer === undefined) throw new Error('nothing is offered');
  chair.do({ do: 'press', offer: { ...offer, taken: ticked } });
  expect([chair.status('closed@case'), chair.status('noted@case')]).toEqual(['none', 'done']);
});
