/** In a real browser: the keys of a tablet are made once, kept, and cannot be read out. */
import { expect, it } from 'vitest';
import { openTabletKeys } from '../../src/storage/key-store.ts';
import { isSignedBy, signText } from '../../src/storage/signatures.ts';

it('the keys of a tablet stay the same, sign, and the private one cannot be exported', async () => {
  const keys = await openTabletKeys(window.crypto);
  if (keys === null) throw new Error('this browser has no Ed25519');
  expect((await openTabletKeys(window.crypto))?.publicKey).toBe(keys.publicKey);
  expect(keys.publicKey).toMatch(/^[0-9a-f]{64}$/);
  if (keys.privateKey instanceof Uint8Array) throw new Error('this browser has no Ed25519');
  await expect(crypto.subtle.exportKey('pkcs8', keys.privateKey)).rejects.toThrow();
  const kept = await openTabletKeys(window.crypto);
  if (kept === null) throw new Error('the keys are gone');
  const o = { publicKey: keys.publicKey, text: 'a head', signature: '' };
  const signature = await signText(window.crypto, kept, o.text);
  expect(await isSignedBy(window.crypto, { ...o, signature })).toBe(true);
  expect(await isSignedBy(window.crypto, { ...o, signature, text: 'another' })).toBe(false);
});
