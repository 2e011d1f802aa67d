/** How a tablet reaches the clinic's store: at the address of the page, through its own web server. */
import * as v from 'valibot';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { JwtFor } from '../../sync/founding.ts';
import type { PairingDoor, ServerSeeds, StoreLogin, UserKey } from '../../sync/server-keys.ts';
import type { ClinicStore } from '../../sync/store-types.ts';

export interface StorePlatform {
  /** How to reach the store in order to pair; null where this address has none. */
  door(): Promise<PairingDoor | null>;
  /** `name`: the tablet's id, or `pairing`. */
  open(o: { readonly login: StoreLogin; readonly name: string }): Promise<ClinicStore>;
  newUser(): Promise<UserKey>;
  readonly jwtFor: JwtFor;
  /** Shuts users out at the server. */
  shutOut(
    seeds: ServerSeeds,
    o: { readonly site: string; readonly users: readonly string[] },
  ): Promise<Result<null, Problem>>;
  /** Erases what the store has of a case, keys first. */
  erase(
    seeds: ServerSeeds,
    o: { readonly site: string; readonly caseId: string },
  ): Promise<Result<Erased, Problem>>;
}

/** Messages that were found and erased. */
export interface Erased {
  readonly keys: number;
  readonly entries: number;
}

const doorSchema = v.object({
  format: v.literal('lutewatch-pairing'),
  site: v.string(),
  isDemo: v.boolean(),
  serverVersion: v.string(),
  jwt: v.string(),
  seed: v.string(),
});

const DOOR_PATH = '/store/pairing';
/** A web server that says nothing has no store. */
const DOOR_WITHIN_MS = 5000;

/** The client of the store is loaded with the first call; a tablet that is alone makes none. */
export function browserStore(origin: string): StorePlatform {
  const client = () => import('../../sync/nats-browser.ts');
  const accounts = () => import('../../sync/accounts.ts');
  return {
    async door() {
      try {
        const signal = AbortSignal.timeout(DOOR_WITHIN_MS);
        const answer = await fetch(`${origin}${DOOR_PATH}`, { signal, cache: 'no-store' });
        const value: unknown = answer.ok ? await answer.json() : null;
        return parsedOr(doorSchema, value);
      } catch {
        return null;
      }
    },
    async open(o) {
      const { openBrowserStore } = await client();
      return openBrowserStore({ origin, ...o });
    },
    newUser: async () => (await accounts()).newUserKey(),
    jwtFor: async (seeds, o) => (await accounts()).tabletJwt(seeds, o),
    async shutOut(seeds, o) {
      const [{ putOutAtServer }, { storeAddress, connectByPage }] = await Promise.all([
        import('../../sync/put-out-at-server.ts'),
        client(),
      ]);
      const address = storeAddress(origin);
      return putOutAtServer(seeds, { address, connect: connectByPage, ...o });
    },
    async erase(seeds, o) {
      const [{ eraseAtServer }, { storeAddress, connectByPage }] = await Promise.all([
        import('../../sync/erase-at-server.ts'),
        client(),
      ]);
      const address = storeAddress(origin);
      return eraseAtServer(seeds, { address, connect: connectByPage, ...o });
    },
  };
}
