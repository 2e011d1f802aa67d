/** What a version of the app did not understand is read again by the next one. */
import { afterEach, expect, it } from 'vitest';
import { clinic, paired, settled, TestTablet, until } from './clinic.ts';

let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

it('reads the whole store again after the app was updated, and after no other start', async () => {
  const of = await clinic();
  const forB = await paired(of, 'b');
  const a = await new TestTablet(of, await paired(of, 'a')).on();
  const start = async (version: string): Promise<TestTablet> => {
    const tablet = await new TestTablet(of, forB, { version }).on();
    tablets = [a, tablet];
    await settled(of.hub, tablets);
    return tablet;
  };
  const older = await start('1');
  await a.press('case-1');
  const [fact] = await a.say('material', 'box', { type: 'recalled' });
  const [id = ''] = await a.facts('material');
  await settled(of.hub, tablets);
  expect(await older.facts('material')).toEqual([id]);

  // As a version leaves it that does not know this kind: read, told as one that does not hold, not kept.
  await older.engine.stop();
  await older.journal.documents.delete({ kind: 'fact-material', id, epoch: older.epoch });
  const subject = 'f.site-1.a.material.0000000000000000';
  await older.database.change([
    { room: 'refused', put: { subject, code: 'bad-payload', device: 'a' } },
    { room: 'offered', drop: `f:${id}` },
  ]);
  older.database.close();
  await older.journal.close();
  expect(fact?.id).toBe(id);

  const same = await start('1');
  expect(await same.facts('material')).toEqual([]);
  expect(same.engine.refused).toEqual([{ code: 'bad-payload', device: 'a', count: 1 }]);
  await same.off();

  const newer = await start('2');
  await until(async () => (await newer.facts('material')).length === 1, 'the fact');
  expect(newer.engine.refused).toEqual([]);
  // That something is read again is no word of a store that went back, nor anything new to the others.
  expect(newer.engine.wentBackAtWallMs).toBeNull();
  expect(await newer.entries('case-1')).toEqual(await a.entries('case-1'));
  expect(of.hub.messages('J')).toHaveLength(1);
});
