/** The same contract by WebSocket, through the web server of the application, as a page reaches the store. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { wsconnect } from '@nats-io/nats-core';
// Node 20 has no WebSocket of its own.
import { WebSocket } from 'undici';
import { expect, it } from 'vitest';
import { writePairingDoor } from '../../src/cli/clinic/clinic-folder.ts';
import type { FoundServer } from '../../src/cli/clinic/find-server.ts';
import { storeAddress } from '../../src/sync/nats-browser.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import { serveBuilt } from '../tools/built-app.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { contractOf } from './contract.ts';
import { underTest } from './nats-clinic.ts';

// As in a page, where the client finds it by itself.
Object.assign(globalThis, { WebSocket });

/** A page of the clinic, with its store behind it. */
async function servedWith(server: FoundServer, clinic: TestClinic) {
  const dir = await mkdtemp(join(tmpdir(), 'lutewatch-page-'));
  await writeFile(join(dir, 'index.html'), '<!doctype html><title>page</title>');
  await writePairingDoor(clinic.folder, server);
  const publicDir = join(clinic.folder.dir, 'public');
  const served = await serveBuilt({ dir, store: { wsPort: clinic.webSocketPort, publicDir } });
  const end = async (): Promise<void> => {
    await served.stop();
    await clinic.end();
    await rm(dir, { recursive: true, force: true });
  };
  return { served, origin: served.address.replace(/\/$/, ''), end };
}

await serverSuite('over a real server', (server) => {
  contractOf('the store by WebSocket, through the web server', async () => {
    const clinic = await startClinic(server);
    const { origin, end } = await servedWith(server, clinic);
    const address = storeAddress(origin);
    const open = (login: StoreLogin, name: string) =>
      openNatsStore({ address, login, name, connect: wsconnect });
    return { ...underTest(clinic, open), end };
  });

  it('serves the way to pair at the address of the page, and only to its own pages', async () => {
    const clinic = await startClinic(server);
    const { origin, end } = await servedWith(server, clinic);
    const answer = await fetch(`${origin}/store/pairing`);
    expect(answer.headers.get('cache-control')).toBe('no-store');
    expect(await answer.json()).toEqual({
      format: 'lutewatch-pairing',
      site: clinic.site,
      isDemo: server.isDemo,
      serverVersion: server.version,
      ...clinic.folder.clinic.pairing,
    });
    // What the server greets with: https://docs.nats.io/reference/reference-protocols/nats-protocol
    expect(await greeting(`${origin}/store`, origin)).toMatch(/^INFO \{/);
    expect(await greeting(`${origin}/store`, 'http://elsewhere.example')).toBe('closed');
    // The store goes away under the page: it is told so, and the page is still served.
    await clinic.kill();
    expect(await greeting(`${origin}/store`, origin)).toBe('closed');
    expect((await fetch(origin)).status).toBe(200);
    await end();
  });

  it('says that there is no store where none is', async () => {
    const dir = await mkdtemp(join(tmpdir(), 'lutewatch-page-'));
    await writeFile(join(dir, 'index.html'), '<!doctype html><title>page</title>');
    const store = { wsPort: 1, publicDir: join(dir, 'nothing') };
    const served = await serveBuilt({ dir, store });
    expect((await fetch(`${served.address}store/pairing`)).status).toBe(404);
    await served.stop();
    await rm(dir, { recursive: true, force: true });
  });
});

/** The first thing that comes; `closed` where the connection ends before. */
function greeting(address: string, origin: string): Promise<string> {
  return new Promise((resolve) => {
    const socket = new WebSocket(address.replace(/^http/, 'ws'), { headers: { origin } });
    socket.binaryType = 'arraybuffer';
    socket.addEventListener('message', ({ data }) => {
      resolve(Buffer.from(data).toString());
      socket.close();
    });
    socket.addEventListener('error', () => resolve('closed'));
    socket.addEventListener('close', () => resolve('closed'));
  });
}
