/** Opens what was sealed before, in whatever runs this. */
import { expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { Result } from '../../src/base/result.ts';
import { boxFromText, openBox } from '../../src/sync/box.ts';
import { fromHex } from '../../src/sync/bytes.ts';
import { type CaseKey, openCaseKey, openKeyMessage } from '../../src/sync/case-keys.ts';
import { importSecret } from '../../src/sync/clinic-secret.ts';
import { foldMembers, verifiedStatement } from '../../src/sync/members.ts';
import { rootKeys } from '../../src/sync/root-key.ts';
import { type Opener, openMessage } from '../../src/sync/seal.ts';
import { makeSealingKeys, openFor, publicSealingKey, sealFor } from '../../src/sync/sealed-for.ts';
import type { StoredMessage } from '../../src/sync/store-types.ts';
import { placeOf } from '../../src/sync/subjects.ts';
import { SEALED_BEFORE } from './sealed-before.ts';

function got<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

function stored(kept: { readonly subject: string; readonly data: string }): StoredMessage {
  const data = fromHex(kept.data);
  const { stream } = present(placeOf(kept.subject, data), 'a place');
  return { stream, seq: 1, subject: kept.subject, data, keptAt: '' };
}

export function opensWhatWasSealedBefore(crypto: Crypto): void {
  const { site, rootKey, secret, statement } = SEALED_BEFORE;

  async function opener(caseKey: CaseKey | null = null): Promise<Opener> {
    const signed = await verifiedStatement(crypto, { site, rootKey }, statement);
    return {
      crypto,
      site,
      rootKey,
      secrets: [await importSecret(crypto, { version: 1, secret })],
      members: foldMembers([present(signed, 'a statement')]),
      caseKey: () => caseKey,
    };
  }

  it('opens facts, short and long', async () => {
    const { fact, longFact } = SEALED_BEFORE;
    const by = await opener();
    expect(got(await openMessage(by, stored(fact)))).toEqual({
      device: 'deviceA',
      payload: { type: 'fact', kind: 'fact-stock', id: 'bottle-1', value: { left: 3 } },
    });
    expect(got(await openMessage(by, stored(longFact))).payload).toMatchObject({
      value: 'Air-dry gently. '.repeat(200),
    });
  });

  it('opens entries by the key of their case', async () => {
    const by = await opener();
    const key = got(await openKeyMessage(by, stored(SEALED_BEFORE.key)));
    if (key.type !== 'case-key') throw new Error('no case key');
    const { secrets } = by;
    const caseKey = got(await openCaseKey(crypto, { wrapped: key.key, secrets }));
    const told = got(await openMessage(await opener(caseKey), stored(SEALED_BEFORE.entries)));
    expect(told.payload).toMatchObject({ type: 'entries', caseId: 'case-1' });
  });

  it('opens the printed box', async () => {
    const sealed = got(boxFromText(SEALED_BEFORE.boxLines.join('\n')));
    const { passphrase, box } = SEALED_BEFORE;
    expect(got(await openBox(crypto, { sealed, passphrase }))).toEqual(box);
  });

  it('has the root key of a seed (RFC 8032, section 7.1, TEST 2)', async () => {
    const seed = '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb';
    const { publicKey } = await rootKeys(crypto, seed);
    expect(publicKey).toBe('3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c');
  });

  it('seals for one tablet, and opens it', async () => {
    const keys = await makeSealingKeys(crypto);
    const sealingKey = await publicSealingKey(crypto, keys);
    const what = { site, device: 'deviceA', version: 2 };
    const sealed = await sealFor(crypto, { what, sealingKey, secret });
    expect(await openFor(crypto, { what, keys, sealed })).toBe(secret);
  });
}
