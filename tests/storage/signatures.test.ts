/** Ed25519 by the platform and by the library, against the vectors of RFC 8032, section 7.1. */
import { webcrypto } from 'node:crypto';
import { hexToBytes } from '@noble/hashes/utils.js';
import { describe, expect, it } from 'vitest';
import {
  isSignedBy,
  makeTabletKeys,
  type SigningCrypto,
  signText,
} from '../../src/storage/signatures.ts';

const refuse = () => Promise.reject(new DOMException('not here', 'NotSupportedError'));
/** A browser of before. */
const without = {
  subtle: {
    generateKey: refuse,
    exportKey: refuse,
    importKey: refuse,
    sign: refuse,
    verify: refuse,
  },
} as unknown as SigningCrypto;
const platform = webcrypto as unknown as SigningCrypto;

/** TEST 2: one byte, 0x72, which is the text "r". */
const VECTOR = {
  secret: '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
  publicKey: '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
  text: 'r',
  signature:
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da' +
    '085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
};

describe.each([
  ['the platform', platform],
  ['the library', without],
])('%s', (_, crypto) => {
  it('signs, and checks what the other signed', async () => {
    const keys = await makeTabletKeys(crypto);
    if (keys === null) throw new Error('no keys');
    const { publicKey } = keys;
    const signature = await signText(crypto, keys, 'a head');
    for (const other of [platform, without]) {
      expect(await isSignedBy(other, { publicKey, signature, text: 'a head' })).toBe(true);
      expect(await isSignedBy(other, { publicKey, signature, text: 'another' })).toBe(false);
    }
  });

  it('agrees with RFC 8032', async () => {
    expect(await isSignedBy(crypto, VECTOR)).toBe(true);
    const flipped = VECTOR.signature.replace(/^9/, '8');
    expect(await isSignedBy(crypto, { ...VECTOR, signature: flipped })).toBe(false);
  });
});

it('the library signs as RFC 8032 does', async () => {
  const { publicKey, secret, text, signature } = VECTOR;
  const keys = { publicKey, privateKey: new Uint8Array(hexToBytes(secret)) };
  expect(await signText(without, keys, text)).toBe(signature);
});
