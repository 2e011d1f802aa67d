/** Readiness of one pair, its names, and who lets others see what they practised. */
import { expect, test } from 'vitest';
import { must } from '../backup/filled-journal.ts';
import { type Done, tabletWithDrills } from './tablet-with-drills.ts';

const pair = (lead: string, assists: string) => ({ lead, assists });
const OURS = pair('RS', 'TK');
const SENTENCE = 'Drill results are no grounds for action.';

type App = Awaited<ReturnType<typeof tabletWithDrills>>;

const stateOf = async ({ drills }: App, of: Parameters<App['drills']['standings']>[0]) => {
  const saliva = (await drills.standings(of)).find(({ mishap }) => mishap === 'saliva');
  return saliva && { state: saliva.state, times: saliva.times };
};

async function signed(own: App): Promise<void> {
  must(await own.desk.setPassphrase({ person: 'Lead L', passphrase: 'four tides and a kettle' }));
  must(await own.desk.drills.sign(SENTENCE));
}

test('each pair has its own spacing, in either order; the tablet counts all drills', async () => {
  const done: readonly Done[] = [
    // Two right, 20 days apart: ready for 90 days. In the other order the second time.
    { ago: 60, pair: OURS },
    { ago: 40, pair: pair('T.K.', 'rs') },
    // Of another pair a miss 35 days ago; of nobody named one 5 days ago.
    { ago: 35, pair: pair('RS', 'AB'), isRight: false },
    { ago: 5 },
  ];
  const own = await tabletWithDrills(done);
  expect(await stateOf(own, OURS)).toEqual({ state: 'ready', times: 2 });
  expect(await stateOf(own, pair('tk', 'RS'))).toEqual({ state: 'ready', times: 2 });
  expect(await stateOf(own, pair('AB', 'RS'))).toEqual({ state: 'due', times: 1 });
  expect(await stateOf(own, pair('RS', ''))).toEqual({ state: 'not-practised', times: 0 });
  expect(await stateOf(own, null)).toEqual({ state: 'practising', times: 4 });
});

test('a name leads to the pairs of that person, and to nobody else', async () => {
  const own = await tabletWithDrills([
    { ago: 9, pair: OURS },
    { ago: 8, pair: pair('AB', 'rs') },
    { ago: 7, pair: pair('AB', 'CD') },
  ]);
  expect((await own.drills.own('r.s.')).pairs).toEqual([pair('AB', 'rs'), OURS]);
  expect((await own.drills.own('')).pairs).toEqual([]);
  expect((await own.drills.own('R')).pairs).toEqual([]);
});

test('the same name twice is one person', async () => {
  const own = await tabletWithDrills([{ ago: 0 }]);
  expect(own.drills.name(pair('RS', ' r.s. '))).toEqual({ ok: true, value: pair('RS', '') });
  must(await own.drills.nameDrill('drill-0', pair('TK', 'TK')));
  expect((await own.drills.kept())[0]?.pair).toEqual(pair('TK', ''));
});

test('the pair is kept for the sitting alone, and what was kept of a drill can be named anew', async () => {
  const own = await tabletWithDrills([{ ago: 0 }]);
  expect(own.drills.pair).toBeNull();
  expect(own.drills.name(pair(' RS ', ' '))).toEqual({ ok: true, value: pair('RS', '') });
  must(await own.drills.nameDrill('drill-0', OURS));
  own.time.pass(119 * 60_000);
  expect(own.drills.pair).toEqual(OURS);
  own.time.pass(60_000);
  expect(own.drills.pair).toBeNull();
  expect((await own.drills.kept())[0]?.pair).toEqual(OURS);
  must(await own.drills.nameDrill('drill-0', pair('', '')));
  expect((await own.drills.kept())[0]).not.toHaveProperty('pair');
  expect(own.drills.name(pair('x'.repeat(201), ''))).toMatchObject({ error: { code: 'too-long' } });
});

test('nobody shares before the lead has signed; withdrawn, it is gone at once', async () => {
  const own = await tabletWithDrills([
    { ago: 9, pair: OURS },
    { ago: 8, pair: OURS, mishap: 'light-failed', isRight: false },
    { ago: 7, pair: pair('AB', 'TK'), mishap: 'blood' },
  ]);
  expect(await own.drills.share({ person: 'RS', isShared: true })).toMatchObject({
    error: { code: 'not-signed' },
  });
  expect(await own.desk.drills.sign(SENTENCE)).toMatchObject({ error: { code: 'desk-closed' } });
  expect(await own.drills.people()).toEqual({ signed: null, shared: [] });
  await signed(own);
  const { wallMs } = own.time.clock.stamp();
  expect((await own.drills.people()).signed).toEqual({
    by: 'Lead L',
    onWallMs: wallMs,
    words: SENTENCE,
  });
  must(await own.drills.share({ person: 'RS', isShared: true }));
  // Which kinds, in the order of kinds; neither how nor how often, and nothing of the other one.
  const shared = async () => (await own.drills.people()).shared;
  expect(await shared()).toEqual([{ person: 'RS', kinds: ['saliva', 'light-failed'] }]);
  expect((await own.drills.own('r.s.')).isShared).toBe(true);
  expect(await own.drills.own('TK')).toMatchObject({
    kinds: ['saliva', 'light-failed', 'blood'],
    isShared: false,
  });
  must(await own.drills.share({ person: 'rs', isShared: false }));
  expect(await shared()).toEqual([]);
  expect((await own.drills.own('RS')).isShared).toBe(false);
});

test('names go when somebody wants it, and with notes after twelve months', async () => {
  const own = await tabletWithDrills([
    // Their journals were deleted before.
    { ago: 366, pair: OURS },
    { ago: 366, easier: 'Ask Ruth S' },
    { ago: 364, pair: OURS },
    { ago: 3, pair: pair('AB', 'CD') },
  ]);
  const leads = async () => (await own.drills.kept()).map((k) => k.pair?.lead ?? null);
  await own.drills.prune(own.session.casesList);
  expect(await leads()).toEqual([null, null, 'RS', 'AB']);
  expect((await own.drills.kept()).map((k) => k.notes.easier)).toEqual(['', '', '', '']);
  expect(must(await own.drills.unname('TK'))).toBe(1);
  expect(await leads()).toEqual([null, null, null, 'AB']);
  // What was done stays with the tablet.
  expect(await stateOf(own, null)).toMatchObject({ times: 4 });
});

test('a drill of before, which names nobody, is read; one with a name that is too long is not', async () => {
  const own = await tabletWithDrills([{ ago: 1 }, { ago: 2, pair: pair('x'.repeat(201), '') }]);
  expect((await own.drills.kept()).map(({ caseId }) => caseId)).toEqual(['drill-0']);
});
