/** The same tablets on a real server: it is killed, put back to an older disk, and its files hold no word. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { type Clinic, clinic, paired, TestTablet, until } from './clinic.ts';

async function filesIn(dir: string): Promise<readonly string[]> {
  const found = await readdir(dir, { recursive: true, withFileTypes: true });
  return found.filter((each) => each.isFile()).map((each) => join(each.parentPath, each.name));
}

await serverSuite('tablets on a real server', (server) => {
  let on: TestClinic;
  let of: Clinic;
  let tablets: TestTablet[] = [];
  const logins = new Map<string, StoreLogin>();

  beforeEach(async () => {
    on = await startClinic(server);
    const open = (device: string) => on.open(present(logins.get(device), 'a login'), device);
    of = await clinic(open, on.site);
  });
  afterEach(async () => {
    for (const tablet of tablets) await tablet.off();
    tablets = [];
    await on.end();
  });

  async function tablet(name: string): Promise<TestTablet> {
    logins.set(name, (await on.tablet(name)).login);
    const made = await new TestTablet(of, await paired(of, name)).on();
    tablets.push(made);
    return made;
  }
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
    await on.kill();
    for (let n = 0; n < 20; n += 1) await a.press('case-1', 2);
    await b.press('case-2');
    expect(await a.entries('case-1')).toHaveLength(41);
    await on.start();
    await has(b, 'case-1', 41);
    await has(a, 'case-2', 1);
    await until(() => a.engine.isShared && b.engine.isShared, 'all to be shared');
  });

  it('give everything again to a server that came back with an older disk', async () => {
    const [a, b] = [await tablet('a'), await tablet('b')];
    await a.press('case-1');
    await has(b, 'case-1', 1);
    await until(() => a.engine.isShared && b.engine.isShared, 'all to be shared');
    await on.kill();
    const disk = await on.copyDisk();
    await on.start();
    await a.press('case-1', 4);
    await b.press('case-2', 1);
    await has(b, 'case-1', 5);
    await has(a, 'case-2', 1);
    await until(() => a.engine.isShared && b.engine.isShared, 'all to be shared');
    await on.kill();
    await on.putDisk(disk);
    await on.start();
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
    const files = await filesIn(on.folder.dir);
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
