/** A clinic's store in memory with what belongs to it: its door, its users, the ways to shut out and to erase. */
import { present } from '../../src/base/assert.ts';
import { ok } from '../../src/base/result.ts';
import type { StorePlatform } from '../../src/runtime/sharing/store-platform.ts';
import type { MemoryHub } from '../../src/sync/memory-store.ts';
import type { ServerSeeds } from '../../src/sync/server-keys.ts';

const BASE32 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

export function memoryPlatform({
  site,
  hub,
  seeds,
}: {
  readonly site: string;
  readonly hub: MemoryHub;
  readonly seeds: ServerSeeds;
}): StorePlatform {
  const devices = new Map<string, string>();
  let users = 0;
  return {
    door: async () => ({
      format: 'lutewatch-pairing',
      site,
      isDemo: true,
      serverVersion: '2.9.10',
      jwt: 'door',
      seed: 'door',
    }),
    open: async ({ name }) => hub.open(name === 'pairing' ? null : name),
    newUser: async () => {
      users += 1;
      const name = present(BASE32[users % 32], 'a letter');
      return { user: `U${'A'.repeat(54)}${name}`, seed: `SU-${users}` };
    },
    jwtFor: async (given, { user, device }) => {
      if (given.tabletSigningSeed !== seeds.tabletSigningSeed) throw new Error('another server');
      devices.set(user, device);
      return `jwt of ${device}`;
    },
    erase: async (given, o) => {
      if (given.storeSeed !== seeds.storeSeed) throw new Error('another server');
      const erased = { K: 0, J: 0 };
      for (const stream of ['K', 'J'] as const) {
        for (const { seq, subject } of hub.messages(stream)) {
          const [, of, , item = ''] = subject.split('.');
          if (of !== o.site || item !== o.caseId) continue;
          hub.erase(stream, seq);
          erased[stream] += 1;
        }
      }
      return ok({ keys: erased.K, entries: erased.J });
    },
    shutOut: async (given, o) => {
      if (given.operatorSeed !== seeds.operatorSeed) throw new Error('another server');
      for (const user of o.users) hub.putOut(devices.get(user) ?? '');
      return ok(null);
    },
  };
}
