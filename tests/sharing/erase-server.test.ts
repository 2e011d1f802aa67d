/** Why a case is erased in the store message by message, and by whom alone. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createUser, encodeUser, fromSeed } from '@nats-io/jwt';
import { expect, it } from 'vitest';
import { adminConnection, nodeConnect } from '../../src/cli/clinic/run-server.ts';
import { eraseAtServer } from '../../src/sync/erase-at-server.ts';
import type { Bytes, ClinicStore, StreamName } from '../../src/sync/store-types.ts';
import { subjectOf } from '../../src/sync/subjects.ts';
import { bytes, done, opened } from '../sync/contract.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';

/** Whether these bytes stand anywhere in the files of the server. */
async function isOnDisk(folder: string, wanted: Bytes): Promise<boolean> {
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  for (const name of names) {
    if (!name.isFile()) continue;
    const held = await readFile(join(name.parentPath, name.name));
    if (held.includes(Buffer.from(wanted))) return true;
  }
  return false;
}

/** A message of a case, kept as a tablet keeps it. */
async function keep(
  store: ClinicStore,
  o: {
    readonly stream: StreamName;
    readonly item: string;
    readonly n: number;
    readonly site: string;
  },
): Promise<Bytes> {
  const data = bytes(600);
  const place = { stream: o.stream, site: o.site, device: 'a', item: o.item, number: o.n };
  await done(store.put({ stream: o.stream, subject: subjectOf(place, data), data }));
  return data;
}

async function twoCases(clinic: TestClinic) {
  const { login } = await clinic.tablet('a');
  const store = await opened(clinic.open(login, 'a'));
  const { site } = clinic;
  const of = async (item: string): Promise<readonly Bytes[]> => [
    await keep(store, { stream: 'K', item, n: 1, site }),
    await keep(store, { stream: 'J', item, n: 0, site }),
    await keep(store, { stream: 'J', item, n: 1, site }),
    await keep(store, { stream: 'J', item, n: 2, site }),
  ];
  const [deleted, other] = [await of('case-1'), await of('case-2')];
  const all = [...deleted, ...other];
  const folder = clinic.folder.dir;
  // The server writes a moment after it has acknowledged.
  for (const data of all) {
    for (let turn = 0; !(await isOnDisk(folder, data)); turn += 1) {
      if (turn > 200) throw new Error('the bytes are in no file');
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }
  return { store, folder, deleted, other };
}

/** A user of the account that holds the streams, without limits: no tablet and no key of the app is one. */
async function anyone(clinic: TestClinic) {
  const user = createUser();
  const account = fromSeed(new TextEncoder().encode(clinic.seeds.storeSeed));
  const jwt = await encodeUser('anyone', user.getPublicKey(), account, {});
  const login = { jwt, seed: new TextDecoder().decode(user.getSeed()) };
  return adminConnection({ port: clinic.port, login, name: 'anyone' });
}

await serverSuite('a deleted case in the store', (server) => {
  it('would be left in its files by a purge', async () => {
    const clinic = await startClinic(server);
    const { store, folder, deleted } = await twoCases(clinic);
    const admin = await anyone(clinic);
    for (const stream of ['K', 'J']) {
      const filter = `${stream.toLowerCase()}.${clinic.site}.*.case-1.>`;
      const answer = await admin.request(
        `$JS.API.STREAM.PURGE.${stream}`,
        JSON.stringify({ filter }),
      );
      expect(answer.string()).toContain('"success":true');
    }
    await admin.close();
    const next = await done(store.get({ stream: 'J', seq: 1 }));
    expect(next?.subject).toContain('.case-2.');
    const left = await Promise.all(deleted.map((data) => isOnDisk(folder, data)));
    expect(left).toContain(true);
    await store.close();
    await clinic.end();
  }, 30_000);

  it('is erased by nobody without the keys of the box', async () => {
    const clinic = await startClinic(server);
    const other = await startClinic(server);
    const { store } = await twoCases(clinic);
    const where = { address: `127.0.0.1:${clinic.port}`, connect: nodeConnect, site: clinic.site };
    const refused = await eraseAtServer(other.seeds, { ...where, caseId: 'case-1' });
    expect(refused.ok).toBe(false);
    expect((await done(store.get({ stream: 'J', seq: 1 })))?.subject).toContain('.case-1.');
    await store.close();
    await Promise.all([clinic.end(), other.end()]);
  }, 30_000);
});
