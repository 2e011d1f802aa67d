/**
 * The accounts and users of the clinic's store, as its server understands them.
 *
 * - `STORE` holds the streams. It lets others send it messages and read them one by one, and no more.
 * - `TABLETS` holds nothing: it reaches `STORE` through imports. With one account for both, a tablet could have
 *   had the store's answer kept in the branch of another one, by naming that as the place for the answer.
 * - `SYS` may tell the server of a changed account: that is how a tablet is put out.
 *
 * A tablet may write its own branches only. Its rights are a template in the account that names the user, so
 * that pairing touches no file of the server.
 */
import type { Account, SigningKey } from '@nats-io/jwt';
import {
  createAccount,
  createOperator,
  createUser,
  encodeAccount,
  encodeOperator,
  encodeUser,
  fromSeed,
  type KeyPair,
  newScopedSigner,
} from '@nats-io/jwt';
import type { ServerSeeds, StoreLogin, UserKey } from './server-keys.ts';
import { STREAMS } from './store-types.ts';

const seedOf = (key: KeyPair): string => new TextDecoder().decode(key.getSeed());
const keyOf = (seed: string): KeyPair => fromSeed(new TextEncoder().encode(seed));

/** The public name of a key. */
export const publicOf = (seed: string): string => keyOf(seed).getPublicKey();

/** New keys for a new server, from the system's own source of random numbers. */
export function newServerSeeds(): ServerSeeds {
  return {
    operatorSeed: seedOf(createOperator()),
    systemSeed: seedOf(createAccount()),
    storeSeed: seedOf(createAccount()),
    tabletsSeed: seedOf(createAccount()),
    tabletSigningSeed: seedOf(createAccount()),
    pairingSigningSeed: seedOf(createAccount()),
  };
}

/** A new user. The seed stays where it was made. */
export function newUserKey(): UserKey {
  const key = createUser();
  return { user: key.getPublicKey(), seed: seedOf(key) };
}

const directGets = STREAMS.map((stream) => `$JS.API.DIRECT.GET.${stream}`);
const branches = STREAMS.map((stream) => `${stream.toLowerCase()}.>`);

/** Rights of a tablet. `{{name()}}` is the name of its user: the id of the tablet. */
function tabletScope(seeds: ServerSeeds, site: string): SigningKey {
  const own = ['j', 'f', 'k', 'live', 'here'].map((branch) => `${branch}.${site}.{{name()}}`);
  return newScopedSigner(keyOf(seeds.tabletSigningSeed), 'tablet', {
    pub: { allow: [...own.flatMap((each) => [each, `${each}.>`]), ...directGets] },
    sub: { allow: ['_INBOX.{{name()}}.>', 'live.>', 'here.>', 'r.>'] },
  });
}

function pairingScope(seeds: ServerSeeds): SigningKey {
  const allow = ['pair.>'];
  return newScopedSigner(keyOf(seeds.pairingSigningSeed), 'pairing', {
    pub: { allow },
    sub: { allow },
  });
}

const UNLIMITED = {
  subs: -1,
  data: -1,
  payload: -1,
  imports: -1,
  exports: -1,
  wildcards: true,
  conn: -1,
  leaf: -1,
};

/** The operator's own document: the root of what the server believes. */
export const operatorJwt = (seeds: ServerSeeds): Promise<string> =>
  encodeOperator('clinic', keyOf(seeds.operatorSeed), {
    system_account: publicOf(seeds.systemSeed),
  });

const signed = (seeds: ServerSeeds, name: string, seed: string, account: Partial<Account>) =>
  encodeAccount(name, publicOf(seed), account, { signer: keyOf(seeds.operatorSeed) });

export const systemAccountJwt = (seeds: ServerSeeds): Promise<string> =>
  signed(seeds, 'SYS', seeds.systemSeed, { limits: UNLIMITED });

export const storeAccountJwt = (seeds: ServerSeeds): Promise<string> =>
  signed(seeds, 'STORE', seeds.storeSeed, {
    limits: { ...UNLIMITED, disk_storage: -1, mem_storage: 0, streams: -1, consumer: -1 },
    exports: [
      ...[...branches, ...directGets].map((subject) => ({
        name: subject,
        subject,
        type: 'service' as const,
      })),
      { name: 'stored', subject: 'r.>', type: 'stream' },
    ],
  });

/** A user that is named here does not come in again: later than any instant at which it was issued. */
const FOR_EVER_S = 4_102_444_800;

/** The account of the tablets of one site, without the users in `putOut`. */
export function tabletsAccountJwt(
  seeds: ServerSeeds,
  o: { readonly site: string; readonly putOut: readonly string[] },
): Promise<string> {
  const account = publicOf(seeds.storeSeed);
  return signed(seeds, 'TABLETS', seeds.tabletsSeed, {
    limits: UNLIMITED,
    imports: [
      ...[...branches, ...directGets].map((subject) => ({
        name: subject,
        subject,
        account,
        type: 'service' as const,
      })),
      { name: 'stored', subject: 'r.>', account, type: 'stream' },
    ],
    signing_keys: [tabletScope(seeds, o.site), pairingScope(seeds)],
    revocations: Object.fromEntries(o.putOut.map((user) => [user, FOR_EVER_S])),
  });
}

/** Lets a tablet in: `user` is the public name of the key that it made, `device` its id. */
export const tabletJwt = (
  seeds: ServerSeeds,
  o: { readonly user: string; readonly device: string },
): Promise<string> =>
  encodeUser(
    o.device,
    o.user,
    publicOf(seeds.tabletsSeed),
    {},
    { signer: keyOf(seeds.tabletSigningSeed), scopedUser: true },
  );

/** A user that may pair, and nothing else. */
export async function pairingLogin(seeds: ServerSeeds): Promise<StoreLogin> {
  const { user, seed } = newUserKey();
  const signer = keyOf(seeds.pairingSigningSeed);
  const issuer = publicOf(seeds.tabletsSeed);
  const jwt = await encodeUser('pairing', user, issuer, {}, { signer, scopedUser: true });
  return { jwt, seed };
}

async function storeUser(
  seeds: ServerSeeds,
  o: { readonly name: string; readonly calls: readonly string[] },
): Promise<StoreLogin> {
  const { user, seed } = newUserKey();
  const jwt = await encodeUser(o.name, user, keyOf(seeds.storeSeed), {
    pub: { allow: o.calls.map((call) => `$JS.API.${call}`) },
    sub: { allow: [`_INBOX.${o.name}.>`] },
  });
  return { jwt, seed };
}

/** Erases single messages of cases and keys. Its inbox is `_INBOX.keeper`. */
export const keeperLogin = (seeds: ServerSeeds): Promise<StoreLogin> =>
  storeUser(seeds, {
    name: 'keeper',
    calls: [
      ...STREAMS.flatMap((stream) => [`STREAM.INFO.${stream}`, `DIRECT.GET.${stream}`]),
      'STREAM.MSG.DELETE.J',
      'STREAM.MSG.DELETE.K',
    ],
  });

/** Makes the streams, once. Its inbox is `_INBOX.builder`. */
export const builderLogin = (seeds: ServerSeeds): Promise<StoreLogin> =>
  storeUser(seeds, {
    name: 'builder',
    calls: STREAMS.flatMap((stream) => [`STREAM.INFO.${stream}`, `STREAM.CREATE.${stream}`]),
  });

/** Tells the server of a changed account. Its inbox is `_INBOX.steward`. */
export async function stewardLogin(seeds: ServerSeeds): Promise<StoreLogin> {
  const { user, seed } = newUserKey();
  const jwt = await encodeUser('steward', user, keyOf(seeds.systemSeed), {
    pub: { allow: ['$SYS.REQ.CLAIMS.UPDATE', '$SYS.REQ.ACCOUNT.*.CLAIMS.LOOKUP'] },
    sub: { allow: ['_INBOX.steward.>'] },
  });
  return { jwt, seed };
}
