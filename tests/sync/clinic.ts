/** A clinic of a few tablets, for tests of what they seal. */
import { webcrypto } from 'node:crypto';
import { present } from '../../src/base/assert.ts';
import type { Result } from '../../src/base/result.ts';
import { monoMs, wallMs } from '../../src/base/units.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { makeTabletKeys, type TabletKeys } from '../../src/storage/signatures.ts';
import type { CaseKey } from '../../src/sync/case-keys.ts';
import { importSecret } from '../../src/sync/clinic-secret.ts';
import { foldMembers, signStatement } from '../../src/sync/members.ts';
import { makeRootSeed, rootKeys } from '../../src/sync/root-key.ts';
import type { Opener } from '../../src/sync/seal.ts';
import { makeSealingKeys, publicSealingKey } from '../../src/sync/sealed-for.ts';
import type {
  Membership,
  SealedMessage,
  Sealer,
  SignedStatement,
} from '../../src/sync/sealed-types.ts';
import type { StoredMessage } from '../../src/sync/store-types.ts';
import { placeOf } from '../../src/sync/subjects.ts';

export const platform = webcrypto as unknown as Crypto;

export interface TestTablet {
  readonly sealer: Sealer;
  readonly paired: SignedStatement;
}

export interface TestClinic {
  readonly site: string;
  readonly root: TabletKeys;
  readonly secret: string;
  tablet(device: string): Promise<TestTablet>;
}

/** A secret whose bytes are all one: the ciphertext is still another each time, by its nonce. */
export async function makeClinic(site = 'siteA', secret = '11'.repeat(32)): Promise<TestClinic> {
  const root = await rootKeys(platform, makeRootSeed(platform));
  return {
    site,
    root,
    secret,
    tablet: async (device) => {
      const keys = present(await makeTabletKeys(platform), 'keys');
      const sealing = await makeSealingKeys(platform);
      const membership: Membership = {
        site,
        device,
        name: `Tablet ${device}`,
        rootKey: root.publicKey,
        secrets: [await importSecret(platform, { version: 1, secret })],
        line: { jwt: '', seed: '' },
        isDemo: true,
        sealing,
      };
      const paired = await signStatement(platform, {
        site,
        root,
        statement: {
          type: 'paired',
          device,
          name: membership.name,
          signingKey: keys.publicKey,
          sealingKey: await publicSealingKey(platform, sealing),
          user: `U${device}`,
          atWallMs: 1,
        },
      });
      return { sealer: { membership, keys, crypto: platform }, paired };
    },
  };
}

/** What a tablet knows that reads what `known` wrote. */
export function openerOf(
  { sealer }: TestTablet,
  o: {
    readonly statements: readonly SignedStatement[];
    readonly caseKeys?: readonly CaseKey[];
  },
): Opener {
  const { site, rootKey, secrets } = sealer.membership;
  return {
    crypto: platform,
    site,
    rootKey,
    secrets,
    members: foldMembers(o.statements),
    caseKey: ({ caseId, keyId }) =>
      o.caseKeys?.find((key) => key.caseId === caseId && key.id === keyId) ?? null,
  };
}

/** A message as the store hands it out. */
export function stored({ subject, data }: SealedMessage, seq = 1): StoredMessage {
  const { stream } = present(placeOf(subject, data), 'a place');
  return { stream, seq, subject, data, keptAt: '' };
}

/** A chain of so many entries of a case. */
export const entriesOf = (caseId: string, count: number) =>
  chainEntries(
    Array.from({ length: count }, (_, seq) => ({
      seq,
      press: seq,
      stamp: { wallMs: wallMs(1000 + seq), monoMs: monoMs(seq), runId: 'run' },
      by: null,
      event: { type: 'note-added', words: `entry ${seq}` },
    })),
    { caseId, epoch: 1, prev: NO_ENTRY_HASH },
  );

/** The value of a result that must be one. */
export function got<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}
