/** Every reason for which a command is not carried out, at least once; nothing is recorded then. */
import { describe, expect, it } from 'vitest';
import type { Command, RefusalCode } from '../../src/engine/commands.ts';
import { decideOpening } from '../../src/engine/decide.ts';
import { Chair, rehearsalOf } from './chair.ts';
import {
  choose,
  confirm,
  dwell,
  protocolOf,
  SMALL_WHOLE,
  settingOf,
  step,
  window,
} from './fixture.ts';

const setting = settingOf(SMALL_WHOLE, ['11', '21']);

const START = `
  at 0 s   confirm ready case
  at 0 s   confirm fit 11 21
`;
const LIT = `
  ${START}
  at 0 s   choose shade case accepted
  at 0 s   start etch 11
  at 4 s   start etch 21
  at 20 s  end etch 11
  at 24 s  end etch 21
  at 40 s  end rinse 11 21
  at 45 s  confirm dry 11 21
  at 50 s  coat coats 11 21
  at 54 s  coat coats 11 21
  at 2:10  confirm cement 1
  at 2:20  confirm load 11
  at 2:30  confirm seat 11
  at 2:35  light-on tack 11 facial
`;

const refused: { before: string; row: string; code: RefusalCode }[] = [
  { before: '', row: 'confirm nothing case', code: 'unknown-step' },
  { before: '', row: 'confirm ready tooth:11', code: 'unknown-subject' },
  { before: '', row: 'confirm ready', code: 'unknown-subject' },
  { before: '', row: 'confirm fit 11', code: 'not-yet' },
  { before: START, row: 'confirm ready case', code: 'already-done' },
  { before: START, row: 'start ready case', code: 'wrong-press' },
  { before: START, row: 'close shade case', code: 'wrong-press' },
  { before: START, row: 'choose shade case maybe', code: 'unknown-option' },
  { before: START, row: 'end etch 11', code: 'not-yet' },
  { before: LIT, row: 'start etch 11', code: 'already-done' },
  { before: LIT, row: 'light-on tack 21 facial', code: 'light-is-on' },
  { before: LIT, row: 'light-move tack 11 lingual', code: 'wrong-press' },
  { before: LIT, row: 'light-move tack 11', code: 'wrong-press' },
  { before: LIT, row: 'light-move tack 11 facial 3 2', code: 'wrong-press' },
  { before: LIT, row: 'light-move tack 11 facial 0', code: 'wrong-press' },
  { before: `${LIT}\n light-off tack 11`, row: 'light-off tack 11', code: 'light-is-off' },
  { before: LIT, row: 'skip etch 11 because twice', code: 'already-done' },
  { before: LIT, row: 'skip polish case', code: 'reason-missing' },
  { before: LIT, row: 'skip polishing case because no', code: 'unknown-step' },
  { before: LIT, row: 'confirm again case', code: 'does-not-apply' },
  { before: '', row: 'undo', code: 'nothing-to-undo' },
  { before: '', row: 'retime -5 s', code: 'nothing-to-undo' },
  { before: LIT, row: 'settle 3 5 s', code: 'unknown-gap' },
  { before: LIT, row: 'add-mix 48', code: 'unknown-unit' },
  { before: LIT, row: 'add-mix', code: 'unknown-unit' },
  { before: LIT, row: 'probe 9 soft', code: 'unknown-subject' },
  { before: LIT, row: 'role nobody', code: 'unknown-person' },
  { before: LIT, row: 'note', code: 'reason-missing' },
  { before: LIT, row: 'sign-off dentist-a', code: 'work-left' },
];

describe('a refusal', () => {
  it.each(refused)('$code answers "$row"', ({ before, row, code }) => {
    const chair = new Chair(setting).rows(before);
    const { records } = chair.log;
    expect(chair.refusals(row)).toEqual([`${row}: ${code}`]);
    expect(chair.log.records).toBe(records);
  });

  it('names what is in the way', () => {
    const chair = new Chair(setting).rows(START);
    const offer = { kind: 'confirm', step: 'dry', subjects: ['tooth:11'] } as const;
    expect(chair.do({ do: 'press', offer })?.missing).toEqual(['rinse@tooth:11', 'rinse@tooth:21']);
  });

  it('answers a press on what runs already or does not run', () => {
    const chair = new Chair(setting).rows(`${START}
      at 0 s  choose shade case accepted
    `);
    expect(chair.refusals('end etch 11')).toEqual(['end etch 11: not-running']);
    chair.rows('start etch 11');
    expect(chair.refusals('start etch 11')).toEqual(['start etch 11: already-running']);
  });

  it('meets every command but notes and corrections once a case is closed', () => {
    const only = settingOf(protocolOf([step('only', 'case', confirm)]), ['11']);
    const chair = new Chair(only).rows(`
      at 0 s  confirm only case
      at 5 s  sign-off dentist-a
    `);
    expect(chair.refusals('confirm only case')).toEqual(['confirm only case: case-closed']);
    expect(chair.refusals('sign-off dentist-a')).toEqual(['sign-off dentist-a: case-closed']);
    chair.rows('note the patient called the next day');
  });

  it('meets a hold that is broken without a word; with one, the press and the word are kept', () => {
    const held = protocolOf(
      [step('bond', 'case', confirm), step('open', 'case', confirm, { after: ['bond'] })],
      { windows: [window('closed', 'bond/end -> open/end', { minS: 86_400, protects: 'hold' })] },
    );
    const chair = new Chair(settingOf(held, ['11'])).rows('at 0 s confirm bond case');
    expect(chair.refusals('at 1 h confirm open case')).toEqual([
      'confirm open case: reason-missing',
    ]);
    const offer = { kind: 'confirm', step: 'open', subjects: ['case'] } as const;
    expect(chair.do({ do: 'press', offer, reason: 'the patient leaves for good' })).toBeNull();
    expect(chair.breaches).toEqual(['early closed case by 82800000']);
    expect(chair.log.state.notes[0]?.words).toBe('closed: the patient leaves for good');
    // One press: undo takes both.
    chair.rows('undo');
    expect(chair.log.state.notes).toEqual([]);
  });

  it('meets a gap length that is none', () => {
    const chair = new Chair(setting).rows(`
      at 0 s  sleep 60 s
              note awake
    `);
    const gap = chair.log.state.gaps[0]?.seq ?? -1;
    const settle = (lengthMs: number): Command => ({ do: 'settle-gap', gap, lengthMs });
    expect(chair.do(settle(-1))?.code).toBe('gap-length');
    expect(chair.do(settle(Number.NaN))?.code).toBe('gap-length');
    expect(chair.do(settle(60_000))).toBeNull();
  });
});

describe('opening', () => {
  const unconfirmed = { ...rehearsalOf(setting), mode: 'patient' as const };

  it('of a patient case needs a protocol confirmed as it stands; a rehearsal does not', () => {
    const approval = { hash: 'hash-1', by: 'lead-c', onWallMs: 0 };
    const code = (o: Parameters<typeof decideOpening>[0]) => {
      const decided = decideOpening(o);
      return decided.ok ? 'opened' : decided.error.code;
    };
    expect(code(unconfirmed)).toBe('protocol-unconfirmed');
    expect(code({ ...unconfirmed, approval: { ...approval, hash: 'older' } })).toBe(
      'protocol-unconfirmed',
    );
    expect(code({ ...unconfirmed, approval })).toBe('opened');
    expect(code(rehearsalOf(setting))).toBe('opened');
  });

  it.each([
    { what: 'leaves out a unit', plan: { order: ['11'], mixes: [['11']] } },
    { what: 'knows a strange unit', plan: { order: ['11', '21', '12'], mixes: [] } },
    { what: 'mixes a unit twice', plan: { mixes: [['11', '21'], ['21']] } },
    { what: 'mixes a strange unit', plan: { mixes: [['11', '48']] } },
  ])('is refused for a plan that $what', ({ plan }) => {
    const decided = decideOpening(rehearsalOf({ ...setting, plan: { ...setting.plan, ...plan } }));
    expect(decided).toMatchObject({ ok: false, error: { code: 'plan-does-not-fit' } });
  });

  it('and a change of plan are refused when two mixes take turns, for they would wait for each other', () => {
    const four = settingOf(SMALL_WHOLE, ['11', '21', '12', '22']);
    const plan = {
      ...four.plan,
      mixes: [
        ['11', '12'],
        ['21', '22'],
      ],
    };
    expect(decideOpening(rehearsalOf({ ...four, plan }))).toMatchObject({ ok: false });
    const chair = new Chair(four);
    expect(chair.do({ do: 'change-plan', plan, reason: 'test' })?.code).toBe('plan-does-not-fit');
    const other = { ...four.plan, order: ['22', '12', '21', '11'] };
    const mixes = [
      ['22', '12'],
      ['21', '11'],
    ];
    expect(chair.do({ do: 'change-plan', plan: { ...other, mixes }, reason: 'test' })).toBeNull();
  });
});

describe('a press that is allowed', () => {
  it('may be short, early, late or out of turn: that is recorded, never refused', () => {
    const protocol = protocolOf([
      step('way', 'case', choose({ id: 'a' }, { id: 'b' })),
      step('wait', 'tooth', dwell(10, 20, 30), { after: ['way'] }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 0 s    choose way case a
      at 1 s    start wait 21
      at 2 s    end wait 21
      at 3 s    start wait 11
      at 10:00  end wait 11
    `);
    expect(chair.breaches).toEqual(['short wait tooth:21 by 9000', 'over wait tooth:11 by 567000']);
  });
});
