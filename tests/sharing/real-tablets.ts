/** Tablets of a clinic on a real server. Each test has a clinic of its own, and none of it is left behind. */
import { afterEach, beforeEach } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { FoundServer } from '../../src/cli/clinic/find-server.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import { startClinic, type TestClinic } from '../tools/nats-server.ts';
import { type Clinic, clinic, paired, TestTablet } from './clinic.ts';

export interface RealTablets {
  /** The server of the test that runs. */
  readonly on: TestClinic;
  /** A tablet that is let in and takes part. `prepare`: before it does. */
  readonly tablet: (name: string, prepare?: (made: TestTablet) => void) => Promise<TestTablet>;
}

/** To be called within a suite. */
export function realTablets(server: FoundServer): RealTablets {
  let on: TestClinic | null = null;
  let of: Clinic | null = null;
  let tablets: TestTablet[] = [];
  const logins = new Map<string, StoreLogin>();

  beforeEach(async () => {
    const started = await startClinic(server);
    on = started;
    const open = (device: string) => started.open(present(logins.get(device), 'a login'), device);
    of = await clinic(open, started.site);
  });
  afterEach(async () => {
    for (const tablet of tablets) await tablet.off();
    tablets = [];
    await on?.end();
  });

  return {
    get on() {
      return present(on, 'a server');
    },
    async tablet(name, prepare) {
      logins.set(name, (await present(on, 'a server').tablet(name)).login);
      const clinicOf = present(of, 'a clinic');
      const made = new TestTablet(clinicOf, await paired(clinicOf, name));
      prepare?.(made);
      tablets.push(await made.on());
      return made;
    },
  };
}
