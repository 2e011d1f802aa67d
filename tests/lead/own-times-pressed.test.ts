/** Where one press stood for more than one thing, no pace of one thing is learned from it. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { recordedCase, recordedPaces } from '../../src/runtime/cases/own-paces.ts';
import { ownTimesFrom, samplesOf } from '../../src/runtime/lead/lead-own-times.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, protocolOf, settingOf, step, window } from '../engine/fixture.ts';
import { pressedWhole } from '../export/pressed-journals.ts';

const { log } = pressedWhole();
const samples = samplesOf(log);
const of = (id: string) => samples.filter((sample) => sample.step === id);

describe('a case with lists, sweeps, implied steps and paced light', () => {
  it('teaches nothing of what no press was for alone', () => {
    const learned = (id: string) =>
      of(id).flatMap((s) => [s.tookMs, s.handsMs, s.untilLastMs].filter((ms) => ms !== null));
    for (const id of [
      'charge',
      'read-teeth',
      'signals',
      'load',
      'excess',
      'tack',
      'expose',
      'acid',
    ]) {
      expect([id, learned(id)]).toEqual([id, []]);
    }
  });

  it('nor of the step whose press said so: the time before it is of both', () => {
    for (const { handsMs, untilLastMs } of of('seat'))
      expect([handsMs, untilLastMs]).toEqual([null, null]);
  });

  it('goes on teaching what was pressed for itself, from the press before it on', () => {
    const press = (type: string, id: string): number => {
      const found = log.records.findLast(
        (r) => r.event.type === type && 'step' in r.event && r.event.step === id,
      );
      return present(found, id).stamp.monoMs;
    };
    // After a pass of light the press that confirmed it is the one before.
    expect(of('gel-rinsed').map((s) => s.handsMs)).toEqual([
      press('step-confirmed', 'gel-rinsed') - press('light-pass-confirmed', 'expose'),
    ]);
    // A list is one press: the next step begins with it.
    expect(of('pause-over').map((s) => s.handsMs)).toEqual([
      press('step-confirmed', 'pause-over') - press('step-confirmed', 'light-checked'),
    ]);
  });

  it('gives a case file only paces that were pressed', () => {
    const { spec, protocol } = log.state.opened;
    const cases = Array.from({ length: 6 }, () => recordedCase(log));
    const steps = recordedPaces(spec, protocol, cases).map((pace) => pace.step);
    expect(steps).toContain('gel-rinsed');
    for (const id of ['charge', 'load', 'seat', 'excess', 'tack', 'expose'])
      expect(steps).not.toContain(id);
  });
});

describe('the windows of the own records', () => {
  // By hand: said by a press 40 s after the one before, so between 0 and 40 s; the limit is 30 s.
  const protocol = protocolOf(
    [
      step('first', 'unit', confirm),
      step('load', 'unit', confirm, {
        after: ['first/same'],
        pressed: { kind: 'implied', by: ['seat'] },
      }),
      step('seat', 'unit', confirm, { after: ['load/same'] }),
    ],
    { windows: [window('soon', 'first/end -> load/end', { maxS: 30 })] },
  );
  const cased = (seatS: number) => {
    const chair = new Chair(settingOf(protocol, ['11']));
    chair.rows(`at 5 s confirm first 11\nat ${5 + seatS} s confirm seat 11`);
    return chair.log;
  };
  const windowsOf = (...all: (typeof log)[]) => ownTimesFrom(protocol, all).windows[0];

  it('were perhaps broken where the limit lies inside what is known', () => {
    expect(windowsOf(cased(40), cased(20))).toMatchObject({
      cases: 2,
      casesBroken: 0,
      casesPerhaps: 1,
      worstMs: 0,
    });
  });
});
