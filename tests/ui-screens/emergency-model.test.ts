/** What an emergency card says of its times: elapsed against the named ones, never long enough. */
import { describe, expect, it } from 'vitest';
import { monoMs, wallMs } from '../../src/base/units.ts';
import type { EmergencyCardId } from '../../src/engine/aside-types.ts';
import type { OpenCard } from '../../src/runtime/emergency/emergency-state.ts';
import { cardModel } from '../../src/ui/emergency/emergency-model.ts';

const at = (seconds: number) => ({
  wallMs: wallMs(seconds * 1000),
  monoMs: monoMs(seconds * 1000),
  runId: 'run',
});

/** A card that was opened at 0 s, with these ticks, looked at at `now`. */
function lineAt(card: EmergencyCardId, id: string, o: { ticks: readonly number[]; now: number }) {
  const done = o.ticks.map((seconds) => ({ line: id, stamp: at(seconds) }));
  const open: OpenCard = { card, stamp: at(0), caseId: null, done };
  const lines = cardModel(open, ({ monoMs: ms }) => {
    const span = o.now * 1000 - ms;
    return { loMs: span, hiMs: span };
  });
  const found = lines.find((line) => line.id === id);
  const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
  return found && { ...found, notes: found.notes.map(plain) };
}

describe('a rinse against named times', () => {
  it.each([
    [[], 90, null, 'Starts now', false],
    [[10], 90, '1:20', null, false],
    [[10], 309, '4:59', null, false],
    [[10], 310, '5:00', null, true],
    [[10], 910, '15:00', null, true],
  ])('ticked at %j, looked at at %d s', (ticks, now, figure, press, isPassed) => {
    const line = lineAt('hydrofluoric-skin', 'rinse', { ticks, now });
    expect(line).toMatchObject({ figure, press, isPassed });
    expect(line?.notes[0]).toBe('Named time: 5 min or 15 min');
  });

  it('names the longest of the times that have passed', () => {
    const notes = (now: number) => lineAt('hydrofluoric-skin', 'rinse', { ticks: [0], now })?.notes;
    expect(notes(300)).toContain('5 min have passed');
    expect(notes(900)).toContain('15 min have passed');
  });
});

describe('what comes round every 5 min', () => {
  const count = (ticks: readonly number[], now: number) =>
    lineAt('allergic-reaction', 'count', { ticks, now });

  it('counts from the opening, then from its last tick, and tells how often it was noted', () => {
    expect(count([], 299)).toMatchObject({ figure: '4:59', isPassed: false, press: 'Done now' });
    expect(count([], 300)?.notes).toEqual(['5 min have passed: due again']);
    expect(count([300], 310)).toMatchObject({ figure: '0:10', press: 'Done again now' });
    expect(count([300, 620], 621)?.notes).toContain('noted 2 times');
  });
});

it('a plain line is done once, and says when', () => {
  expect(lineAt('choking', 'cough', { ticks: [], now: 9 })).toMatchObject({ press: 'Done' });
  const done = lineAt('choking', 'cough', { ticks: [42], now: 60 });
  expect(done).toMatchObject({ press: null, notes: ['Done 0:42 after the tap'] });
});
