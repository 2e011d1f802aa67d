/** The terminal's end of a founding, when the first tablet goes silent after it was given the keys. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { foundClinic } from '../../src/cli/clinic/found-clinic.ts';
import { joinedByBox, newBox, requestOf } from '../../src/sync/founding.ts';
import { pairLine, typedPairCode } from '../../src/sync/pair-code.ts';
import { JoinPairing } from '../../src/sync/pairing.ts';
import { sealFact } from '../../src/sync/seal.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { got, platform } from './clinic.ts';
import { done, newDevice, opened, until } from './contract.ts';
import { jwtFor, ownKeys, until as untilStep } from './pair-ends.ts';

const timers = {
  later(ms: number, run: () => void): () => void {
    const timer = setTimeout(run, ms);
    return () => clearTimeout(timer);
  },
};

await serverSuite('a founding that is broken off', (server) => {
  let clinic: TestClinic;
  let said: string[];
  const stores: ClinicStore[] = [];
  beforeEach(async () => {
    clinic = await startClinic(server);
    said = [];
    asked = [];
  });
  afterEach(async () => {
    for (const store of stores.splice(0)) await store.close();
    await clinic.end();
  });

  const open = async (...of: Parameters<TestClinic['open']>): Promise<ClinicStore> => {
    const store = await opened(clinic.open(...of));
    stores.push(store);
    return store;
  };

  let asked: string[];
  const terminal = (askAnew?: (question: string) => Promise<boolean>): Promise<void> =>
    foundClinic({
      folder: clinic.folder,
      server,
      port: clinic.port,
      say: (line) => void said.push(line),
      ask: () => Promise.resolve(true),
      ...(askAnew && {
        askAnew: (question: string) => {
          asked.push(question);
          return askAnew(question);
        },
      }),
      times: { askMs: 200 },
    });

  const codes = (): readonly string[] =>
    said.flatMap((line) => /ten minutes: (.+)/.exec(line)?.[1] ?? []);

  /** A tablet that types the code that is shown, up to the keys. */
  async function given(code: string) {
    const own = await ownKeys(newDevice());
    const store = await open(clinic.folder.clinic.pairing, 'pairing');
    const typed = present(await typedPairCode(platform, code), 'a code');
    const line = pairLine(store.live, { id: typed.id, side: 'new' });
    const parts = { crypto: platform, line, timers, code: typed, nowWallMs: Date.now() };
    const end = new JoinPairing(parts, await requestOf(platform, own));
    await untilStep(end, 'done');
    if (end.given?.type !== 'founding') throw new Error('no founding');
    return { own, end, founding: end.given };
  }

  async function founded({ own, founding }: Awaited<ReturnType<typeof given>>): Promise<void> {
    const box = newBox(platform, founding);
    const o = { box, own, isDemo: true, nowWallMs: Date.now(), jwtFor };
    const { membership } = await joinedByBox(platform, o);
    const store = await open(membership.line, membership.device);
    const sealer = { membership, keys: own.signing, crypto: platform };
    const sealed = got(await sealFact(sealer, { kind: 'fact-lot', id: 'x', value: { lot: 1 } }));
    await done(store.put({ stream: 'F', ...sealed }));
  }

  const hasSeeds = (): boolean => existsSync(join(clinic.folder.dir, 'seeds.json'));

  it('forgets the keys once the clinic is founded, also when nobody said so', async () => {
    const ends = terminal();
    await until('a code', () => codes().length === 1);
    const first = await given(present(codes()[0], 'a code'));
    first.end.stop();
    expect(hasSeeds()).toBe(true);
    await founded(first);
    await ends;
    expect(hasSeeds()).toBe(false);
    expect(codes()).toHaveLength(1);
  });

  it('gives the keys to a second tablet only where somebody at the terminal wants it', async () => {
    const ends = terminal(() => Promise.resolve(asked.length === 1));
    await until('a code', () => codes().length === 1);
    const first = await given(present(codes()[0], 'a code'));
    first.end.stop();
    await until('another code', () => codes().length === 2);
    expect(hasSeeds()).toBe(true);
    const second = await given(present(codes()[1], 'a code'));
    await founded(second);
    await second.end.finish();
    await ends;
    expect(hasSeeds()).toBe(false);
    expect(asked).toHaveLength(2);
  });

  it('gives them to nobody else by itself, nor after it was started anew', async () => {
    void terminal(() => new Promise(() => undefined));
    await until('a code', () => codes().length === 1);
    const first = await given(present(codes()[0], 'a code'));
    first.end.stop();
    await until('a question', () => asked.length === 1);
    const again = terminal(() => Promise.resolve(false));
    await until('another question', () => asked.length === 2);
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(codes()).toHaveLength(1);
    await founded(first);
    await again;
    expect(codes()).toHaveLength(1);
    expect(hasSeeds()).toBe(false);
  });
});
