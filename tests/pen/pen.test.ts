/** Who may write a case, and how its pen goes from one tablet to another. */
import { describe, expect, it } from 'vitest';
import { replay } from '../../src/engine/log.ts';
import { holdsPen } from '../../src/engine/pen.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { atLight, press } from '../engine/light-pass.ts';

const A = { tablet: 'tablet-a', name: 'Chair 1' } as const;
const B = { tablet: 'tablet-b', name: 'Chair 2' } as const;
const C = { tablet: 'tablet-c', name: 'Chair 3' } as const;

const etch = protocolOf([step('etch', 'tooth', dwell(15, 20, 30)), step('ready', 'case', confirm)]);

function openedOn(tablet?: string, chair = new Chair(settingOf(etch, ['11']))): Chair {
  chair.log = replay(
    chair.log.records.map((r) =>
      r.event.type === 'case-opened' && tablet !== undefined
        ? { ...r, event: { ...r.event, tablet } }
        : r,
    ),
  );
  return chair;
}

const give = (to: { tablet: string; name: string } | null) =>
  ({ do: 'give-pen', ...A, to: to?.tablet ?? null, toName: to?.name ?? '' }) as const;
const take = (who: { tablet: string; name: string }, isHeard = true, reason?: string) =>
  ({ do: 'take-pen', ...who, fromName: A.name, isHeard, ...(reason && { reason }) }) as const;

const holders = (chair: Chair) =>
  [A, B, C].filter(({ tablet }) => holdsPen(chair.log.state.pen, tablet)).map((t) => t.name);

describe('the pen', () => {
  it('is with the tablet that opened the case', () => {
    expect(holders(openedOn(A.tablet))).toEqual(['Chair 1']);
  });

  it('of a case that names no tablet is with whoever has it', () => {
    expect(holders(openedOn())).toEqual(['Chair 1', 'Chair 2', 'Chair 3']);
  });

  it('is with nobody between giving and taking, and then with who took it', () => {
    const chair = openedOn(A.tablet);
    expect(chair.do(give(B))).toBeNull();
    expect(holders(chair)).toEqual([]);
    expect(chair.do({ do: 'note', words: 'still here' })).toMatchObject({ code: 'not-holder' });
    expect(chair.do(take(B))).toBeNull();
    expect(holders(chair)).toEqual(['Chair 2']);
    expect(chair.do({ do: 'note', words: 'from here on' })).toBeNull();
  });

  it('that was given to one tablet is taken by that one, or back; by no other while it is heard of', () => {
    const chair = openedOn(A.tablet);
    chair.do(give(B));
    const given = chair.log;
    expect(chair.do(take(C))).toMatchObject({ code: 'pen-is-held' });
    expect(chair.do(take(A))).toBeNull();
    expect(holders(chair)).toEqual(['Chair 1']);
    chair.log = given;
    expect(chair.do(take(C, false, 'Chair 2 does not start'))).toBeNull();
    expect(chair.log.records.at(-1)?.event).toMatchObject({ from: 'gone' });
  });

  it('that was given to whoever takes it is taken by anyone', () => {
    const chair = openedOn(A.tablet);
    chair.do(give(null));
    expect(chair.do(take(C))).toBeNull();
    expect(holders(chair)).toEqual(['Chair 3']);
  });

  it('is not taken from a tablet that is heard of, nor without a reason from one that is not', () => {
    const chair = openedOn(A.tablet);
    expect(chair.do(take(B))).toMatchObject({ code: 'pen-is-held' });
    expect(chair.do(take(B, false))).toMatchObject({ code: 'reason-missing' });
    expect(chair.do(take(B, false, '  '))).toMatchObject({ code: 'reason-missing' });
    expect(chair.do(take(B, false, 'its battery is empty'))).toBeNull();
    expect(holders(chair)).toEqual(['Chair 2']);
  });

  it('is given only by who holds it, and to another tablet', () => {
    const chair = openedOn(B.tablet);
    expect(chair.do(give(C))).toMatchObject({ code: 'not-holder' });
    const own = openedOn(A.tablet);
    expect(own.do(give(A))).toMatchObject({ code: 'not-holder' });
    expect(own.do(take(A))).toMatchObject({ code: 'holds-pen' });
  });

  it('lies on the table once the case is signed: a note from elsewhere takes it', () => {
    const chair = openedOn(A.tablet);
    chair.rows(`skip etch 11 because no time
      skip ready case because no time
      sign-off dentist-a`);
    expect(chair.log.state.closed).not.toBeNull();
    expect(chair.do(take(B))).toBeNull();
    expect(chair.log.records.at(-1)?.event).toMatchObject({ from: 'closed' });
    expect(chair.do({ do: 'note', words: 'seen again' })).toBeNull();
  });

  it('is not taken back by undo: undo goes on meaning the work before it', () => {
    const chair = openedOn(A.tablet);
    chair.rows('start etch 11');
    chair.do(give(B));
    chair.do(take(B));
    expect(chair.do({ do: 'undo' })).toBeNull();
    expect(chair.log.state.runs).toEqual({});
    expect(holders(chair)).toEqual(['Chair 2']);
  });
});

/** Light on tooth 11 that tones lead, just begun. */
function lightPassChair(): Chair {
  const chair = openedOn(A.tablet, atLight(['11']));
  press(chair, 'pass-begin');
  return chair;
}

describe('light that tones lead', () => {
  it('is stopped when the case is given up, and the tones of the new tablet are not known to be heard', () => {
    const chair = lightPassChair();
    expect(chair.log.state.lightPass?.running).not.toBeNull();
    chair.at(chair.trueMs + 2000);
    chair.do(give(B));
    expect(chair.log.state.lightPass?.running).toBeNull();
    expect(chair.log.state.tonesHeard).toBe(true);
    chair.do(take(B));
    expect(chair.log.state.tonesHeard).toBe(false);
  });

  it('is stopped at the last press when the tablet that led it is gone', () => {
    const chair = lightPassChair();
    chair.at(chair.trueMs + 60_000);
    chair.do(take(B, false, 'silent'));
    expect(chair.log.state.lightPass?.running).toBeNull();
    expect(chair.log.state.lightPass?.led.filter((p) => p.isWhole)).toEqual([]);
  });
});
