/** A tack that the tones have led through and nobody confirms: nothing counts, and its limit is watched again. */
import { describe, expect, it } from 'vitest';
import { UNCONFIRMED_MS } from '../../src/engine/led.ts';
import { FamilyChair } from './family-chair.ts';

function tacked(): FamilyChair {
  const chair = FamilyChair.of('glass-ceramic', undefined, 'as-shipped');
  for (let offer = chair.next(); offer !== null; offer = chair.next()) {
    if (offer.kind === 'pass-begin' && offer.step === 'tack') return chair;
  }
  throw new Error('no tack');
}

const cement = (chair: FamilyChair) => chair.view.clocks.find(({ of }) => of === 'cement-open');

describe('a tack that nobody confirms', () => {
  const chair = tacked();

  it('has its cement watched while the light is on', () => {
    expect(cement(chair)).toBeDefined();
  });

  it('is not called late while people lift the excess', () => {
    chair.atMs += 20_000;
    expect(chair.view.pass?.isOver).toBe(true);
    expect(cement(chair)).toBeUndefined();
  });

  it('has its cement watched again after a while, and nothing counts as exposed', () => {
    const soonMs = chair.view.nextChangeInMs;
    expect(soonMs).not.toBeNull();
    chair.atMs += UNCONFIRMED_MS;
    expect(cement(chair)).toBeDefined();
    const lit = Object.values(chair.log.state.runs).flatMap((run) => run.exposures);
    expect(lit).toEqual([]);
    expect(chair.view.offers.map(({ kind }) => kind)).toContain('pass-confirm');
  });
});
