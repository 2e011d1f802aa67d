/** The emergency cards of a window: their clocks outlive a reload, and touches go into the right record. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Command } from '../../src/engine/commands.ts';
import type { AppState } from '../../src/runtime/app-state.ts';
import { Emergencies } from '../../src/runtime/emergency/emergencies.ts';
import { askForEmergency } from '../../src/runtime/emergency/emergency-ask.ts';
import { NO_EMERGENCY } from '../../src/runtime/emergency/emergency-state.ts';
import { type AppStore, createAppStore } from '../../src/runtime/store.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { settle } from './fake-time.ts';
import { type ManualClock, manualClock } from './manual-clock.ts';

const WALL_MS = Date.UTC(2026, 10, 27, 9, 0, 0);

let journal: Journal;
let epoch: number | null;
let clock: ManualClock;
let store: AppStore;
const told = vi.fn<(command: Command) => null>(() => null);

const running = (caseId: string): AppState['running'] =>
  ({ caseId, isViewOnly: false }) as AppState['running'];

/** A page that was opened now, with the cards read back. */
async function opened(runId: string): Promise<Emergencies> {
  clock = manualClock({ wallMs: clock?.stamp().wallMs ?? WALL_MS, monoMs: 0, runId });
  store = createAppStore({ emergency: NO_EMERGENCY, running: null } as AppState);
  const cards = new Emergencies({ store, journal, clock, epoch: () => epoch, do: told });
  await cards.read();
  return cards;
}

beforeEach(async () => {
  told.mockClear();
  journal = createMemoryJournal();
  const begun = await journal.startWriting();
  epoch = begun.ok ? begun.value.epoch : null;
  clock = manualClock({ wallMs: WALL_MS, monoMs: 0, runId: 'first' });
});

describe('an emergency card', () => {
  it('counts from its first tap, on and on, however often it is looked at', async () => {
    const cards = await opened('run-1');
    askForEmergency(store);
    expect(cards.state.shown).toBe('list');
    cards.show('choking');
    clock.advance(65_000);
    cards.hide();
    askForEmergency(store);
    expect(cards.state.shown).toBe('choking');
    cards.show('choking');
    expect(cards.state.open).toHaveLength(1);
    const [card] = cards.state.open;
    expect(card && cards.since(card.stamp)).toEqual({ loMs: 65_000, hiMs: 65_000, byWall: false });
  });

  it('is there again after a reload, counted by the time of day, and says so', async () => {
    const before = await opened('run-1');
    before.show('hydrofluoric-skin');
    before.tick('hydrofluoric-skin', 'rinse');
    await settle();
    clock.advance(30_000);
    const after = await opened('run-2');
    expect(after.state).toMatchObject({ shown: 'hydrofluoric-skin', open: [{ done: [{}] }] });
    const [card] = after.state.open;
    expect(card && after.since(card.stamp)).toEqual({ loMs: 30_000, hiMs: 30_000, byWall: true });
    after.end('hydrofluoric-skin');
    await settle();
    expect((await opened('run-3')).state).toEqual(NO_EMERGENCY);
  });

  it('claims no time where the wall clock went back meanwhile', async () => {
    const before = await opened('run-1');
    before.show('acid-eye');
    await settle();
    clock.moveWall(-60_000);
    const after = await opened('run-2');
    const [card] = after.state.open;
    expect(card && after.since(card.stamp)).toMatchObject({ loMs: 0, hiMs: Infinity });
  });

  it('of another day is no emergency of today', async () => {
    (await opened('run-1')).show('acid-eye');
    await settle();
    clock.advance(25 * 3_600_000);
    expect((await opened('run-2')).state).toEqual(NO_EMERGENCY);
  });

  it('stands over a window that writes only; one that reads along has it one tap away', async () => {
    (await opened('run-1')).show('acid-eye');
    await settle();
    epoch = null;
    const { state } = await opened('run-2');
    expect(state.shown).toBeNull();
    expect(state.open).toHaveLength(1);
  });
});

describe('the record', () => {
  const acts = () =>
    told.mock.calls.map(([c]) => (c.do === 'note-emergency' ? [c.note.act, c.note.line] : c.do));

  it('is told of each touch while the case runs in which the card was opened', async () => {
    const cards = await opened('run-1');
    store.setState({ running: running('case-1') });
    cards.show('allergic-reaction');
    cards.tick('allergic-reaction');
    cards.tick('allergic-reaction', 'count');
    cards.end('allergic-reaction');
    expect(acts()).toEqual([
      ['opened', undefined],
      ['step-done', 'called'],
      ['step-done', 'count'],
      ['closed', undefined],
    ]);
  });

  it('is not told where no case ran, nor another case later', async () => {
    const cards = await opened('run-1');
    cards.show('unwell');
    store.setState({ running: running('case-2') });
    cards.end('unwell');
    expect(acts()).toEqual([]);
  });
});
