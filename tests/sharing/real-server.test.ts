/** The same tablets on a real server: it is killed, put back to an older disk, and its files hold no word. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { serverSuite } from '../tools/nats-server.ts';
import { type TestTablet, until } from './clinic.ts';
import { realTablets } from './real-tablets.ts';

async function filesIn(dir: string): Promise<readonly string[]> {
  const found = await readdir(dir, { recursive: true, withFileTypes: true });
  return found.filter((each) => each.isFile()).map((each) => join(each.parentPath, each.name));
}

await serverSuite('tablets on a real server', (server) => {
  const clinic = realTablets(server);
  const { tablet } = clinic;
  const has = (at: TestTablet, caseId: string, count: number): Promise<void> =>
    until(async () => (await at.entries(caseId)).length === count, `${at.name} ${caseId} ${count}`);

  it('share a case and a recall', async () => {
    const [a, b] = [await tablet('a'), await tablet('b')];
    await a.press('case-1');
    await a.press('case-1', 5);
    await has(b, 'case-1', 6);
    expect(await b.entries('case-1')).toEqual(await a.entries('case-1'));
    const [recall] = await b.say('material', 'box-1', { type: 'recalled', lot: 'L' });
    await until(async () => (await a.facts('material')).includes(recall?.id ?? ''), 'the recall');
  });

  it('go on in mid-case while the server is killed, and have everything when it is back', async () => {
    const [a, b] = [await tablet('a'), await tablet('b')];
    await a.press('case-1');
    await has(b, 'case-1', 1);
    await clinic.on.kill();
    for (let n = 0; n < 20; n += 1) await a.press('case-1', 2);
    await b.press('case-2');
    expect(await a.entries('case-1')).toHaveLength(41);
    await clinic.on.start();
    await has(b, 'case-1', 41);
    await has(a, 'case-2', 1);
    await until(() => a.engine.isShared && b.engine.isShared, 'all to be shared');
  });

  it('give everything again to a server that came back with an older disk', async () => {
    const [a, b] = [await tablet('a'), await tablet('b')];
    await a.press('case-1');
    await has(b, 'case-1', 1);
    await until(() => a.engine.isShared && b.engine.isShared, 'all to be shared');
    await clinic.on.kill();
    const disk = await clinic.on.copyDisk();
    await clinic.on.start();
    await a.press('case-1', 4);
    await b.press('case-2', 1);
    await has(b, 'case-1', 5);
    await has(a, 'case-2', 1);
    await until(() => a.engine.isShared && b.engine.isShared, 'all to be shared');
    await clinic.on.kill();
    await clinic.on.putDisk(disk);
    await clinic.on.start();
    await until(() => a.engine.wentBackAtWallMs !== null, 'the older disk to be seen');
    const c = await tablet('c');
    await has(c, 'case-1', 5);
    await has(c, 'case-2', 1);
  });

  it('leave nothing on its disk that can be read', async () => {
    const a = await tablet('a');
    await a.press('case-1');
    await a.press('case-1', 8);
    await a.say('material', 'box-1', { type: 'recalled', lot: 'Lot-Readable-7' });
    await until(() => a.engine.isShared, 'all to be shared');
    const files = await filesIn(clinic.on.folder.dir);
    const texts = await Promise.all(
      files.map(async (name) => (await readFile(name)).toString('latin1')),
    );
    // What is public of a message stands there: the search finds what there is.
    expect(texts.some((text) => text.includes('case-1'))).toBe(true);
    for (const word of [
      'KB-2041',
      'Upper front',
      'Lot-Readable-7',
      'Two steps',
      'recalled',
      'note-added',
    ]) {
      expect(
        texts.filter((text) => text.includes(word)),
        word,
      ).toEqual([]);
    }
  });
});
