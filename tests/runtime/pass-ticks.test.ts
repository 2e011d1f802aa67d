/** What is ticked of a pass of light is what every door presses, and what undo brings back. */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { MEANT_BEFORE_MS } from '../../src/runtime/chair.ts';
import type { Session } from '../../src/runtime/session.ts';
import { pacedProtocol } from '../chair/at-light.ts';
import { caseOf } from '../engine/fixture.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { type FakeTime, fakeTime, settle } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const TEETH = ['11', '21', '12'];

/** A session at the light of three seated teeth. */
async function atLight(confirmedBy?: string): Promise<{ session: Session; time: FakeTime }> {
  const time = fakeTime({ wallMs: Date.UTC(2026, 10, 29, 9) });
  const protocols = [pacedProtocol({ litS: 2, changeS: 1, ...(confirmedBy && { confirmedBy }) })];
  const session = quietSession({ journal: createMemoryJournal(), protocols, cases: [], time });
  await session.start();
  await session.openCase({ spec: caseOf(TEETH), mode: 'rehearsal', speed: 1 });
  const subjects = (step: string) =>
    step === 'signals' ? [['case']] : TEETH.map((tooth) => [`unit:${tooth}`]);
  for (const step of ['signals', 'seat']) {
    for (const each of subjects(step)) {
      const no = session.do({ do: 'press', offer: { kind: 'confirm', step, subjects: each } });
      expect(no).toBeNull();
    }
  }
  await settle();
  return { session, time };
}

/** The same, once a pass is over and waits to be confirmed. */
async function atConfirm(confirmedBy?: string): Promise<{ session: Session; time: FakeTime }> {
  const { session, time } = await atLight(confirmedBy);
  expect(session.do({ do: 'note-tones', heard: true })).toBeNull();
  await settle();
  time.pass(1000);
  expect(session.pressNext()).toBeNull();
  time.pass(9000);
  await settle();
  return { session, time };
}

const running = (session: Session) => present(session.store.getState().running, 'a case');

const exposed = (session: Session) =>
  Object.entries(running(session).log.state.runs)
    .filter(([, run]) => run.exposures.length > 0)
    .map(([key]) => key);

describe('a place that was unticked', () => {
  const doors: readonly [string, (session: Session) => unknown][] = [
    ['key or pedal', (session) => session.pressNext()],
    [
      'a touch on what is offered',
      (session) => {
        const offer = running(session).view.offers.find(({ kind }) => kind === 'pass-confirm');
        return session.do({ do: 'press', offer: present(offer, 'an offer') });
      },
    ],
  ];

  test.each(doors)('is not confirmed by %s', async (_, pressBy) => {
    const { session } = await atConfirm();
    session.turnPlace('unit:21 facial 1');
    expect(running(session).view.attention.inHand?.places).toHaveLength(2);
    expect(pressBy(session)).toBeNull();
    await settle();
    expect(exposed(session)).toEqual(['expose@unit:11', 'expose@unit:12']);
    expect(running(session).view.offers[0]).toMatchObject({
      kind: 'pass-begin',
      places: [{ subject: 'unit:21' }],
    });
  });

  test('is ticked again with a second touch', async () => {
    const { session } = await atConfirm();
    session.turnPlace('unit:21 facial 1');
    session.turnPlace('unit:21 facial 1');
    session.pressNext();
    await settle();
    expect(exposed(session)).toHaveLength(3);
  });

  test('stands there again when the confirmation is taken back, and not in the next pass', async () => {
    const { session, time } = await atConfirm();
    session.turnPlace('unit:21 facial 1');
    session.pressNext();
    await settle();
    session.do({ do: 'undo' });
    await settle();
    expect(exposed(session)).toEqual([]);
    expect(running(session).view.attention.inHand?.places).toHaveLength(2);
    session.pressNext();
    session.pressNext();
    time.pass(3000);
    await settle();
    expect(running(session).view.offers).toContainEqual(
      expect.objectContaining({
        kind: 'pass-confirm',
        places: [expect.objectContaining({ subject: 'unit:21' })],
      }),
    );
    expect(running(session).view.attention.inHand?.confirms).toHaveLength(1);
  });

  test('leaves nothing exposed where it was the last one that was ticked', async () => {
    const { session } = await atConfirm();
    for (const tooth of TEETH) session.turnPlace(`unit:${tooth} facial 1`);
    expect(session.pressNext()).toBeNull();
    await settle();
    expect(exposed(session)).toEqual([]);
    expect(running(session).view.offers[0]?.places).toHaveLength(3);
  });
});

describe('a later press that confirms the pass as well', () => {
  const look = (session: Session, tooth: string) =>
    session.do({
      do: 'press',
      offer: { kind: 'confirm', step: 'look', subjects: [`unit:${tooth}`] },
    });

  test('confirms what is ticked alone, and is refused where its own light is due again', async () => {
    const { session, time } = await atConfirm('look');
    // The other surface is still owed: no press of what comes after may speak for it.
    expect(look(session, '11')?.code).toBe('not-yet');
    // One press confirms the first surface and begins the second.
    session.pressNext();
    await settle();
    time.pass(9000);
    await settle();
    session.turnPlace('unit:21 lingual 1');
    expect(look(session, '11')).toBeNull();
    await settle();
    const { runs } = running(session).log.state;
    expect(runs['look@unit:11']?.status).toBe('done');
    expect(runs['expose@unit:11']?.status).toBe('done');
    expect(runs['expose@unit:21']?.exposures.map((e) => e.surface)).toEqual(['facial']);
    expect(look(session, '21')?.code).toBe('not-yet');
  });
});

describe('the bar that turns over because the tones are heard now', () => {
  const lastEvent = (session: Session) => running(session).log.records.at(-1)?.event.type;

  test.each([
    [100, 'exposure-started'],
    [MEANT_BEFORE_MS + 50, 'light-pass-begun'],
  ])('means what stood there before for a press %d ms later: %s', async (ms, type) => {
    const { session, time } = await atLight();
    time.pass(1000);
    expect(running(session).view.attention.inHand?.kind).toBe('light-on');
    session.do({ do: 'note-tones', heard: true });
    await settle();
    expect(running(session).view.attention.inHand?.kind).toBe('pass-begin');
    time.pass(ms);
    expect(session.pressNext()).toBeNull();
    await settle();
    expect(lastEvent(session)).toBe(type);
  });

  test('is not undone with the press before it', async () => {
    const { session } = await atLight();
    session.do({ do: 'note-tones', heard: true });
    await settle();
    session.do({ do: 'undo' });
    await settle();
    expect(running(session).log.state.tonesHeard).toBe(true);
    expect(running(session).view.attention.inHand?.step).toBe('seat');
  });
});
