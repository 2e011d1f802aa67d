/** What a tablet seals the others open, and nobody else; what was changed or moved is named. */
import {
  createCipheriv,
  createDecipheriv,
  createHash,
  createPublicKey,
  hkdfSync,
  verify,
} from 'node:crypto';
import { inflateRawSync } from 'node:zlib';
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newCaseKey, openCaseKey, openKeyMessage } from '../../src/sync/case-keys.ts';
import { openMessage, sealEntries, sealFact, sealTombstone } from '../../src/sync/seal.ts';
import { entriesOf, got, makeClinic, openerOf, platform, stored } from './clinic.ts';

const FACT = { kind: 'fact-stock', id: 'bottle-1', value: { said: { left: 3 }, note: 'é𝄞' } };

async function twoTablets() {
  const clinic = await makeClinic();
  const a = await clinic.tablet('deviceA');
  const b = await clinic.tablet('deviceB');
  return { clinic, a, b, statements: [a.paired, b.paired] };
}

describe('a tablet of the clinic', () => {
  it('opens a fact', async () => {
    const { a, b, statements } = await twoTablets();
    const message = stored(got(await sealFact(a.sealer, FACT)));
    expect(message.subject).toMatch(/^f\.siteA\.deviceA\.stock\.[0-9a-f]{16}$/);
    expect(got(await openMessage(openerOf(b, { statements }), message))).toEqual({
      device: 'deviceA',
      payload: { type: 'fact', ...FACT },
    });
  });

  it('opens entries of a case by its key', async () => {
    const { a, b, statements } = await twoTablets();
    const { caseKey, message } = await newCaseKey(a.sealer, 'case-1');
    const entries = entriesOf('case-1', 30);
    const told = stored(got(await sealEntries(a.sealer, { caseKey, entries: entries.slice(7) })));
    expect(told.subject).toMatch(/^j\.siteA\.deviceA\.case-1\.7\.[0-9a-f]{16}$/);
    const opener = openerOf(b, { statements });
    expect(await openMessage(opener, told)).toMatchObject({ ok: false, error: { code: 'no-key' } });
    const key = got(await openKeyMessage(opener, stored(message)));
    if (key.type !== 'case-key') throw new Error('no case key');
    const { secrets } = b.sealer.membership;
    const opened = got(await openCaseKey(platform, { wrapped: key.key, secrets }));
    const withKey = openerOf(b, { statements, caseKeys: [opened] });
    expect(got(await openMessage(withKey, told)).payload).toEqual({
      type: 'entries',
      caseId: 'case-1',
      entries: entries.slice(7),
    });
  });

  it('opens the mark of a deletion', async () => {
    const { a, b, statements } = await twoTablets();
    const value = {
      caseId: 'case-1',
      entries: 3,
      head: '0'.repeat(64),
      epoch: 1,
      stamp: { wallMs: 1, monoMs: 1, runId: 'run' },
      by: null,
      reason: 'entered twice',
    };
    const message = stored(got(await sealTombstone(a.sealer, { caseId: 'case-1', value })));
    const opened = got(await openMessage(openerOf(b, { statements }), message));
    expect(opened.payload).toEqual({ type: 'tombstone', caseId: 'case-1', value });
  });

  it('gives back any value that JSON carries', async () => {
    const { a, b, statements } = await twoTablets();
    const opener = openerOf(b, { statements });
    await fc.assert(
      fc.asyncProperty(fc.jsonValue({ noUnicodeString: false }), async (value) => {
        const sealed = await sealFact(a.sealer, { ...FACT, value });
        // Half a surrogate pair has no canonical text: it is not sealed.
        if (!sealed.ok) return expect(sealed.error.code).toBe('not-storable');
        const opened = got(await openMessage(opener, stored(sealed.value)));
        expect(opened.payload).toEqual({
          type: 'fact',
          ...FACT,
          value: JSON.parse(JSON.stringify(value)),
        });
      }),
      { seed: 20261129, numRuns: 40 },
    );
  });

  it('seals one thing twice as two messages', async () => {
    const { a } = await twoTablets();
    const one = got(await sealFact(a.sealer, FACT));
    const two = got(await sealFact(a.sealer, FACT));
    expect(one.subject).not.toBe(two.subject);
  });
});

describe('a sealed message', () => {
  it('is one of few lengths', async () => {
    const { a } = await twoTablets();
    const lengths = new Set<number>();
    for (let n = 0; n < 300; n += 1) {
      const { data } = got(await sealFact(a.sealer, { ...FACT, value: 'x'.repeat(n) }));
      lengths.add(data.length - 21 - 16);
    }
    expect([...lengths].every((length) => length % 256 === 0)).toBe(true);
    expect(lengths.size).toBeLessThanOrEqual(3);
  });

  it('holds a long protocol in a fraction of its length, and refuses what is too long', async () => {
    const { a, b, statements } = await twoTablets();
    const steps = Array.from({ length: 800 }, (_, n) => ({
      id: `step-${n}`,
      words: 'Air-dry gently for a while.',
    }));
    const long = got(await sealFact(a.sealer, { ...FACT, value: steps }));
    expect(long.data.length).toBeLessThan(JSON.stringify(steps).length / 4);
    const opened = got(await openMessage(openerOf(b, { statements }), stored(long)));
    expect(opened.payload).toMatchObject({ value: steps });
    // What cannot be packed, and what nobody would unpack.
    const noise = () => platform.getRandomValues(new Uint8Array(60_000));
    const hard = [1, 2, 3, 4].map(() => Buffer.from(noise()).toString('base64'));
    for (const value of [hard, 'x'.repeat(4_000_000)]) {
      expect(await sealFact(a.sealer, { ...FACT, value })).toMatchObject({
        ok: false,
        error: { code: 'too-large' },
      });
    }
  });

  it('is what it says it is: node:crypto opens it by HKDF, AES-256-GCM and Ed25519', async () => {
    const { a, clinic } = await twoTablets();
    for (const value of [{ left: 3 }, 'Air-dry gently. '.repeat(200)]) {
      const { subject, data } = got(await sealFact(a.sealer, { ...FACT, value }));
      const place = 'f.siteA.deviceA.stock';
      expect(subject).toBe(
        `${place}.${createHash('sha256').update(data).digest('hex').slice(0, 16)}`,
      );
      const derive = (purpose: string, length: number) =>
        Buffer.from(
          hkdfSync(
            'sha256',
            Buffer.from(clinic.secret, 'hex'),
            '',
            `lutewatch clinic-secret 1 ${purpose}`,
            length,
          ),
        );
      const header = data.subarray(0, 21);
      expect(Buffer.from(header.subarray(1, 9))).toEqual(derive('id', 8));
      const decipher = createDecipheriv('aes-256-gcm', derive('facts', 32), header.subarray(9));
      decipher.setAAD(Buffer.concat([Buffer.from(`${place}\n`), header]));
      decipher.setAuthTag(data.subarray(-16));
      const filled = Buffer.concat([decipher.update(data.subarray(21, -16)), decipher.final()]);
      const body = filled.subarray(4, 4 + filled.readUInt32BE(0));
      expect(filled.subarray(4 + body.length).every((byte) => byte === 0)).toBe(true);
      const text = data[0] === 2 ? inflateRawSync(body) : body;
      const { payload, signature } = JSON.parse(text.toString());
      expect(payload).toEqual({ type: 'fact', ...FACT, value });
      // SubjectPublicKeyInfo of RFC 8410 before the 32 bytes of the key.
      const der = Buffer.from(`302a300506032b6570032100${a.sealer.keys.publicKey}`, 'hex');
      const key = createPublicKey({ key: der, format: 'der', type: 'spki' });
      const signed = canonicalize({ what: 'lutewatch-message', place, payload });
      expect(verify(null, Buffer.from(signed ?? ''), key, Buffer.from(signature, 'hex'))).toBe(
        true,
      );
    }
  });
});

describe('a wrapped case key', () => {
  it('is what it says it is: node:crypto unwraps it by RFC 3394', async () => {
    // RFC 3394, section 4.6: what is used below as the judge is judged first.
    const kek = '000102030405060708090A0B0C0D0E0F101112131415161718191A1B1C1D1E1F';
    const wrapper = createCipheriv(
      'id-aes256-wrap',
      Buffer.from(kek, 'hex'),
      Buffer.alloc(8, 0xa6),
    );
    const data = '00112233445566778899AABBCCDDEEFF000102030405060708090A0B0C0D0E0F';
    expect(wrapper.update(data, 'hex', 'hex').toUpperCase()).toBe(
      '28C9F404C4B810F4CBCCB35CFB87F8263F5786E2D80ED326CBC7F0E71A99F43BFB988B9B7A02DD21',
    );

    const { a, clinic } = await twoTablets();
    const { caseKey, wrapped } = await newCaseKey(a.sealer, 'case-1');
    const by = hkdfSync(
      'sha256',
      Buffer.from(clinic.secret, 'hex'),
      '',
      'lutewatch clinic-secret 1 wrap',
      32,
    );
    const unwrapper = createDecipheriv('id-aes256-wrap', Buffer.from(by), Buffer.alloc(8, 0xa6));
    const raw = unwrapper.update(Buffer.from(wrapped.wrapped, 'hex'));
    expect(raw).toHaveLength(32);
    const id = createHash('sha256').update('lutewatch case-key 1\n').update(raw).digest('hex');
    expect(wrapped.keyId).toBe(id.slice(0, 16));
    expect(caseKey.id).toBe(wrapped.keyId);
    const entries = entriesOf('case-1', 1);
    const { data: sealed } = got(await sealEntries(a.sealer, { caseKey, entries }));
    const decipher = createDecipheriv('aes-256-gcm', raw, sealed.subarray(9, 21));
    decipher.setAAD(
      Buffer.concat([Buffer.from('j.siteA.deviceA.case-1.0\n'), sealed.subarray(0, 21)]),
    );
    decipher.setAuthTag(sealed.subarray(-16));
    expect(decipher.update(sealed.subarray(21, -16)).toString()).toContain('"entry 0"');
  });

  it('cannot be read out of the browser’s keeping', async () => {
    const { a } = await twoTablets();
    const { caseKey } = await newCaseKey(a.sealer, 'case-1');
    await expect(platform.subtle.exportKey('raw', caseKey.key)).rejects.toThrow();
    const [secret] = a.sealer.membership.secrets;
    if (secret === undefined) throw new Error('no secret');
    await expect(platform.subtle.exportKey('raw', secret.key)).rejects.toThrow();
  });

  it('is not taken under the id of another key', async () => {
    const { a } = await twoTablets();
    const one = await newCaseKey(a.sealer, 'case-1');
    const two = await newCaseKey(a.sealer, 'case-1');
    const { secrets } = a.sealer.membership;
    const mixed = { ...one.wrapped, keyId: two.wrapped.keyId };
    expect(await openCaseKey(platform, { wrapped: mixed, secrets })).toEqual({
      ok: false,
      error: 'does-not-open',
    });
  });
});

it('the judge derives as RFC 5869, test case 1', () => {
  const ikm = Buffer.alloc(22, 0x0b);
  const salt = Buffer.from('000102030405060708090a0b0c', 'hex');
  const info = Buffer.from('f0f1f2f3f4f5f6f7f8f9', 'hex');
  expect(Buffer.from(hkdfSync('sha256', ikm, salt, info, 42)).toString('hex')).toBe(
    '3cb25f25faacd57a90434f64d0362f2a2d2d0a90cf1a5a4c5db02d56ecc4c5bf34007208d5b887185865',
  );
});
