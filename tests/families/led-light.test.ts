/** Light that tones have led stands in the way of whatever would pass over it without a word. */
import { describe, expect, it } from 'vitest';
import { FamilyChair } from './family-chair.ts';

/** A chair whose first tack has been begun, so many ms ago. */
function tacked(agoMs: number): FamilyChair {
  const chair = FamilyChair.of('glass-ceramic', undefined, 'as-shipped');
  for (let offer = chair.next(); offer !== null; offer = chair.next()) {
    if (offer.kind !== 'pass-begin' || offer.step !== 'tack') continue;
    chair.atMs += agoMs;
    return chair;
  }
  throw new Error('no tack');
}

const lit = (chair: FamilyChair) =>
  Object.values(chair.log.state.runs).flatMap((run) => run.exposures).length;

describe('a tack that is led and not confirmed', () => {
  it.each([
    ['stopping the visit', { do: 'stop-visit', reason: 'unwell' }],
    ['setting the unit aside', { do: 'set-aside', unit: '36', reason: 'cracked' }],
    ['skipping it', { do: 'skip', step: 'tack', subjects: ['tooth:36'], reason: 'no time' }],
  ] as const)('is not passed over by %s', (_, command) => {
    const chair = tacked(20_000);
    expect(chair.do(command)?.code).toBe('light-is-on');
    expect(chair.log.state.breaches.filter(({ of }) => of === 'tack')).toEqual([]);
  });

  it('is named by the press that confirms it', () => {
    const chair = tacked(20_000);
    const speaker = chair.view.offers.find(({ step }) => step === 'contacts-flossed');
    expect(speaker?.implies?.map(({ step }) => step)).toEqual(['tack', 'gel-lifted']);
    if (speaker === undefined) throw new Error('no contact');
    expect(chair.do({ do: 'press', offer: speaker })).toBeNull();
    expect(lit(chair)).toBe(2);
    // "5 s ago", pressed again and again, does not reach back into the light.
    expect(chair.do({ do: 'retime', byMs: -18_000 })?.code).toBe('moves-before-its-start');
  });

  it('is led no further once the tones are not heard', () => {
    const chair = tacked(4000);
    chair.do({ do: 'note-tones', heard: false });
    chair.atMs += 60_000;
    expect(chair.view.pass?.isStopped).toBe(true);
    expect(chair.log.state.lightPass?.led.map(({ surface }) => surface)).toEqual(['facial']);
    expect(lit(chair)).toBe(0);
  });
});
