/** A case is erased in the store: what is left of it on the disk of the real server is looked for byte by byte. */
import { randomBytes } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { nodeConnect } from '../../src/cli/clinic/run-server.ts';
import { eraseAtServer } from '../../src/sync/erase-at-server.ts';
import type { StreamName } from '../../src/sync/store-types.ts';
import { subjectOf } from '../../src/sync/subjects.ts';
import { serverSuite, startClinic } from '../tools/nats-server.ts';
import { bytes, done, failure, newDevice, opened } from './contract.ts';

async function filesHolding(folder: string, part: Buffer): Promise<readonly string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const holding: string[] = [];
  for (const entry of entries.filter((each) => each.isFile())) {
    const path = join(entry.parentPath, entry.name);
    if ((await readFile(path)).includes(part)) holding.push(path);
  }
  return holding;
}

await serverSuite('erasing a case in the store', (server) => {
  it('takes its keys and entries from every tablet, off the disk too, and nothing else', async () => {
    const clinic = await startClinic(server);
    const devices = [newDevice(), newDevice()];
    const written: { caseId: string; data: Buffer }[] = [];
    const stores = [];
    for (const device of devices) {
      const { login } = await clinic.tablet(device);
      const store = await opened(clinic.open(login, device));
      stores.push(store);
      for (const caseId of ['case-1', 'case-2']) {
        for (const stream of ['J', 'K'] as const satisfies readonly StreamName[]) {
          for (const number of [1, 2, 3]) {
            const data = new Uint8Array([...bytes(300), ...randomBytes(32)]);
            const place = { stream, site: clinic.site, device, item: caseId, number };
            await done(store.put({ stream, subject: subjectOf(place, data), data }));
            written.push({ caseId, data: Buffer.from(data) });
          }
        }
      }
    }
    const [store] = stores;
    if (store === undefined) throw new Error('no store');
    const folder = join(clinic.folder.dir, 'store');
    for (const { data } of written) expect(await filesHolding(folder, data)).not.toEqual([]);

    const o = {
      address: `127.0.0.1:${clinic.port}`,
      connect: nodeConnect,
      site: clinic.site,
      caseId: 'case-1',
    };
    expect(await done(eraseAtServer(clinic.seeds, o))).toEqual({ keys: 6, entries: 6 });
    expect(await done(eraseAtServer(clinic.seeds, o))).toEqual({ keys: 0, entries: 0 });
    const left = async (caseId: string): Promise<number> => {
      const found = [];
      for (const each of written.filter((one) => one.caseId === caseId)) {
        found.push(...(await filesHolding(folder, each.data)));
      }
      return found.length;
    };
    expect(await left('case-1')).toBe(0);
    expect(await left('case-2')).toBe(12);
    for (const stream of ['J', 'K'] as const) {
      const next = await done(store.get({ stream, seq: 1 }));
      expect(next?.subject).toContain('.case-2.');
    }
    // Still so after the server was killed and read its files again.
    await clinic.kill();
    await clinic.start();
    expect(await left('case-1')).toBe(0);
    expect(await done(eraseAtServer(clinic.seeds, o))).toEqual({ keys: 0, entries: 0 });
    for (const each of stores) await each.close();
    await clinic.end();
    expect(await failure(eraseAtServer(clinic.seeds, o))).toBe('not-connected');
  }, 60_000);
});
