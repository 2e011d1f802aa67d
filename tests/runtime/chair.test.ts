import { afterEach, describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { ok } from '../../src/base/result.ts';
import type { CaseLog } from '../../src/engine/log.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import { Chair } from '../../src/runtime/chair.ts';
import { createAlarmTimer } from '../../src/runtime/device/alarm-timer.ts';
import { acceleratedClock, type RehearsalSpeed } from '../../src/runtime/device/clock.ts';
import { barModel } from '../../src/ui/chair/chair-model.ts';
import { speak } from '../../src/words/language.ts';
import { translateProtocols } from '../../src/words/told-protocol.ts';
import { Chair as Opening } from '../engine/chair.ts';
import { choose, confirm, dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { fakeTime, settle } from './fake-time.ts';

const READING = {
  kind: 'confirm',
  evidence: { kind: 'reading', label: 'Light output', unit: 'mW/cm²', min: 100, max: 6000 },
} as const;

const SHORT = protocolOf([
  step('read', 'case', READING),
  step('ready', 'case', confirm, { after: ['read'] }),
  step('etch', 'tooth', dwell(15, 20, 30), { after: ['ready'] }),
]);

function seated(speed: RehearsalSpeed = 1, protocol = SHORT, from?: CaseLog) {
  const time = fakeTime();
  const pictures: RunningCase[] = [];
  const { timers } = time;
  const stamp = time.clock.stamp();
  const clock = acceleratedClock(time.clock, { speed, startWallMs: stamp.wallMs, runId: 'run-1' });
  const alarm = createAlarmTimer({ timers, visibility: { onWake: () => () => undefined } });
  const log = from ?? new Opening(settingOf(protocol, ['11', '12']), { wallMs: stamp.wallMs }).log;
  const chair = new Chair(
    {
      journal: {
        append: async () => ok({ entries: [] } as never),
        adopt: async () => ok({ added: 0 }),
        heartbeat: async () => ok(null) as never,
      },
      epoch: 1,
      clock,
      alarm,
      timers,
      realNowMs: () => time.clock.stamp().monoMs,
      onPicture: (running) => pictures.push(running),
      onFault: (fault) => {
        throw new Error(fault.line);
      },
    },
    { caseId: 'case-1', log, by: 'dentist-a', stored: [] },
  );
  chair.start();
  const press = async (): Promise<void> => {
    chair.pressNext();
    await settle();
  };
  const last = (): RunningCase => present(pictures.at(-1), 'a picture');
  return { chair, time, pictures, press, last };
}

/** Seating may say that the unit is loaded. */
const isLoadNext = ({ view }: FamilyChair): boolean =>
  ['load', 'seat'].includes(view.offers[0]?.step ?? '');

const evidenceIn = (running: RunningCase): readonly (string | undefined)[] =>
  running.log.records.flatMap(({ event }) =>
    event.type === 'step-confirmed' ? [event.evidence] : [],
  );

describe('what is typed beside the bar', () => {
  test('stands in the press of its step, whatever presses', async () => {
    const { chair, press, last } = seated();
    expect(barModel(last())?.words).toMatch(/: not entered$/);
    chair.keepTyped({ step: 'read', evidence: '1150 mW/cm²' });
    expect(barModel(last())?.words).not.toMatch(/not entered/);
    await press();
    await press();
    expect(evidenceIn(last())).toEqual(['1150 mW/cm²', undefined]);
  });

  test('is left out once the field is empty again', async () => {
    const { chair, press, last } = seated();
    chair.keepTyped({ step: 'read', evidence: '1150 mW/cm²' });
    chair.keepTyped(null);
    await press();
    expect(evidenceIn(last())).toEqual([undefined]);
  });
});

describe('what is ticked and answered on a list', () => {
  const onList = { pressed: { kind: 'list', list: 'pause' } } as const;
  const PAUSE = protocolOf(
    [
      step('shades', 'case', confirm, onList),
      step('read', 'case', READING, onList),
      step('fit', 'case', choose({ id: 'good' }, { id: 'poor' }), onList),
      step('etch', 'tooth', dwell(15, 20, 30), { after: ['shades', 'read', 'fit'] }),
    ],
    { lists: [{ id: 'pause', title: 'Opening pause', words: 'Pause read' }] },
  );
  const CASE = ['case'];
  const read = { step: 'read', subjects: CASE };
  const fit = { step: 'fit', subjects: CASE };
  const told = (running: RunningCase) =>
    running.log.records.flatMap(({ event }) => {
      if (event.type === 'step-confirmed') return [`${event.step} ${event.evidence ?? 'ticked'}`];
      return event.type === 'option-chosen' ? [`${event.step} ${event.option}`] : [];
    });

  test('is what the press takes, and what wants an answer stays due', async () => {
    const { chair, press, last } = seated(1, PAUSE);
    expect(barModel(last())).toMatchObject({
      words: 'Pause read, 1 of 3',
      when: '2 stay due',
    });
    chair.keepLine(read, { text: '1150', evidence: '1150 mW/cm²' });
    expect(barModel(last())).toMatchObject({
      words: 'Pause read, 2 of 3',
      when: 'stays due: fit',
    });
    await press();
    expect(told(last())).toEqual(['shades ticked', 'read 1150 mW/cm²']);
    expect(last().view.offers[0]).toMatchObject({ step: 'fit', kind: 'choose' });
  });

  test('a line that was unticked is left, and an answer of another kind is none', async () => {
    const { chair, press, last } = seated(1, PAUSE);
    chair.keepLine({ step: 'shades', subjects: CASE }, { isTicked: false });
    chair.keepLine(fit, { evidence: 'good' });
    expect(barModel(last())?.words).toBe('Pause read, 0 of 3');
    await press();
    expect(last().refusal).toMatchObject({
      code: 'nothing-taken',
      values: { list: 'Opening pause', line: 'read' },
    });
    chair.keepLine(fit, { option: 'good' });
    await press();
    expect(told(last())).toEqual(['fit good']);
  });

  test('stands there again after undo, and serves one press only', async () => {
    const { chair, press, last } = seated(1, PAUSE);
    chair.keepLine(read, { evidence: '1150 mW/cm²' });
    await press();
    expect(last().answers).toEqual({});
    chair.do({ do: 'undo' });
    await settle();
    expect(barModel(last())?.words).toBe('Pause read, 2 of 3');
  });
});

describe('the pace of the pictures', () => {
  test('a clock of seconds shows each second in the instant in which it turns over', async () => {
    const { time, press, pictures, last } = seated();
    await press();
    await press();
    await press();
    const begun = last();
    expect(begun.view.clocks).toHaveLength(1);
    pictures.length = 0;
    time.pass(5000);
    const turns = pictures.map((p) => present(p.view.clocks[0], 'the clock').elapsed.loMs);
    for (const second of [1000, 2000, 3000, 4000, 5000]) expect(turns).toContain(second);
    expect(turns.length).toBeLessThanOrEqual(5 * 6);
  });

  test('nobody presses and nothing runs: a picture a second, no more', () => {
    const { time, pictures } = seated();
    pictures.length = 0;
    time.pass(60_000);
    expect(pictures).toHaveLength(60);
  });

  test('a rehearsal at speed is drawn ten times a second at most', async () => {
    const { time, press, pictures } = seated(60);
    await press();
    await press();
    await press();
    pictures.length = 0;
    time.pass(10_000);
    // What becomes due of itself is drawn at once as well.
    expect(pictures.length).toBeLessThanOrEqual(110);
    expect(pictures.length).toBeGreaterThan(60);
  });
});

describe('undo is offered', () => {
  const leftMs = ({ time, last }: ReturnType<typeof seated>) =>
    present(last().undo, 'an offer').untilRealMs - time.clock.stamp().monoMs;

  test('until ten seconds after the press, whatever the app notes meanwhile', async () => {
    const seat = seated();
    await seat.press();
    const before = seat.time.clock.stamp();
    expect(leftMs(seat)).toBe(10_000);
    seat.time.pass(95_000);
    seat.chair.noteGap({ before, after: seat.time.clock.stamp(), cause: 'asleep-or-moved' });
    await settle();
    expect(leftMs(seat)).toBe(10_000 - 95_000);
  });

  test('for an older press only what is left of its own time, once the newer one is taken back', async () => {
    const seat = seated();
    await seat.press();
    seat.time.pass(4000);
    await seat.press();
    seat.chair.do({ do: 'undo' });
    await settle();
    expect(leftMs(seat)).toBe(6000);
  });

  test.each([
    ['3 s before, for what is left', 3000, 7000],
    ['95 s before, no more', 95_000, -85_000],
    ['by the stamp of a rehearsal that ran ahead, no more', -3000, Number.NEGATIVE_INFINITY],
  ])('when another page took the press %s', async (_, agoMs, expected) => {
    const first = seated();
    await first.press();
    const again = seated(1, SHORT, first.chair.log);
    const made = present(first.chair.log.records.at(-1), 'the press').stamp;
    again.time.pass(made.wallMs + agoMs - again.time.clock.stamp().wallMs);
    const stamp = again.time.clock.stamp();
    again.chair.noteGap({ before: made, after: { ...stamp, runId: 'run-2' }, cause: 'closed' });
    await settle();
    expect(leftMs(again)).toBe(expected);
  });
});

describe('in another language than the protocol', () => {
  afterEach(() => {
    speak('en', null);
    translateProtocols(null);
  });

  test('the picture and what was read aloud are translated; the case keeps its own document', async () => {
    const own = protocolOf([
      step('read', 'case', { kind: 'confirm', evidence: { kind: 'read-back', of: 'protocol' } }),
      step('etch', 'case', dwell(15, 20, 30), { after: ['read'] }),
    ]);
    speak('en-XA', null);
    translateProtocols((protocol) => ({
      protocol: {
        ...protocol,
        title: 'Told',
        steps: protocol.steps.map((s) => ({ ...s, title: `${s.title}, told` })),
      },
      missing: 0,
    }));
    const { press, last } = seated(1, own);
    await press();
    await press();
    expect(evidenceIn(last())[0]).toContain('Told');
    expect(last().view.clocks[0]?.title).toMatch(/, told$/);
    const [opening] = last().log.records;
    expect(opening?.event).toMatchObject({ type: 'case-opened', protocol: own });
  });
});

describe('the bar does not change under a finger', () => {
  /** Etching 11, the bar on 12, until it turns to the rinse of 11 by itself. */
  async function turned() {
    const seat = seated();
    for (let n = 0; n < 3; n += 1) await seat.press();
    const top = () => seat.last().view.offers[0]?.id;
    expect(top()).toBe('start etch tooth:12');
    for (let n = 0; n < 400 && top() === 'start etch tooth:12'; n += 1) seat.time.pass(100);
    expect(top()).toBe('end etch tooth:11');
    return seat;
  }
  const recorded = (running: RunningCase) => running.log.records.at(-1)?.event;

  test('200 ms after it turned over by itself a press means what stood there', async () => {
    const { press, last, time } = await turned();
    time.pass(200);
    await press();
    expect(recorded(last())).toMatchObject({ type: 'step-started', subjects: ['tooth:12'] });
  });

  test('half a second after it a press means what stands there', async () => {
    const { press, last, time } = await turned();
    time.pass(500);
    await press();
    expect(recorded(last())).toMatchObject({ type: 'step-ended', subjects: ['tooth:11'] });
  });

  test('a turn that a press made is meant at once', async () => {
    const { press, last, chair } = await turned();
    chair.do({ do: 'press', offer: present(last().view.offers[0], 'an offer') });
    await settle();
    expect(recorded(last())).toMatchObject({ type: 'step-ended' });
    await press();
    expect(recorded(last())).toMatchObject({ type: 'step-started', subjects: ['tooth:12'] });
  });
});

describe('what must be answered stands at the bar', () => {
  test('a key takes the way back that the bar says, and one undo gives everything back', async () => {
    const family = FamilyChair.of('veneers, universal');
    for (let n = 0; n < 300 && !isLoadNext(family); n += 1) family.next();
    const { chair, press, last, time } = seated(1, SHORT, family.log);
    time.pass(family.atMs);
    const before = last().view.offers[0]?.id;
    chair.do({ do: 'probe-bead', mix: 'mix:1', found: 'firm' });
    await settle();
    expect(barModel(last())?.words).toBe('Start portion 1 again');
    await press();
    const taken = last().log.records.at(-1)?.event;
    expect(taken).toMatchObject({ type: 'way-back-taken', subjects: ['mix:1'] });
    chair.do({ do: 'undo' });
    chair.do({ do: 'undo' });
    await settle();
    expect(last().view.offers[0]?.id).toBe(before);
  });
});
