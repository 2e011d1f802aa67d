/** The lead's box: sealed, as a fact and on paper. */
import { createDecipheriv, hkdfSync, pbkdf2Sync } from 'node:crypto';
import { createPair, fromSeed, Prefix } from '@nats-io/nkeys';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { newServerSeeds } from '../../src/sync/accounts.ts';
import {
  boxFromText,
  boxText,
  openBox,
  parseSealedBox,
  type SealedBox,
  sealBox,
} from '../../src/sync/box.ts';
import { fromCrockford, toCrockford, typedDigits } from '../../src/sync/crockford.ts';
import { rawOfSeed, seedOfRaw } from '../../src/sync/nkey-seed.ts';
import type { LeadBox } from '../../src/sync/sealed-types.ts';
import { got, platform } from './clinic.ts';

const PASSPHRASE = 'blue kettle seven';

const BOX: LeadBox = {
  site: 'site-7f3a',
  ...newServerSeeds(),
  rootSeed: '5a'.repeat(32),
  secrets: [
    { version: 1, secret: '01'.repeat(32) },
    { version: 2, secret: '02'.repeat(32) },
  ],
};

let sealed: SealedBox;
beforeAll(async () => {
  sealed = await sealBox(platform, { box: BOX, passphrase: PASSPHRASE });
});

describe('the sealed box', () => {
  it('opens with its passphrase, and with no other', async () => {
    expect(got(await openBox(platform, { sealed, passphrase: PASSPHRASE }))).toEqual(BOX);
    const wrong = await openBox(platform, { sealed, passphrase: 'blue kettle eight' });
    expect(wrong).toMatchObject({ ok: false, error: { code: 'wrong-passphrase' } });
  });

  it('takes the same letters composed and decomposed', async () => {
    const box = await sealBox(platform, { box: BOX, passphrase: 'Caf\u00e9 am See' });
    const opened = await openBox(platform, { sealed: box, passphrase: 'Cafe\u0301 am See' });
    expect(opened.ok).toBe(true);
  });

  it('is what it says it is: node:crypto opens it by PBKDF2, HKDF and AES-256-GCM', () => {
    const bytes = Buffer.from(sealed.sealed, 'hex');
    const head = bytes.subarray(0, 21);
    expect(head[0]).toBe(1);
    expect(head.readUInt32BE(1)).toBe(600_000);
    const bits = pbkdf2Sync(PASSPHRASE, head.subarray(5), 600_000, 32, 'sha256');
    const derive = (purpose: string, length: number) =>
      Buffer.from(hkdfSync('sha256', bits, '', `lutewatch-box 1 ${purpose}`, length));
    const decipher = createDecipheriv('aes-256-gcm', derive('key', 32), derive('nonce', 12));
    decipher.setAAD(head);
    decipher.setAuthTag(bytes.subarray(-20, -4));
    const contents = Buffer.concat([decipher.update(bytes.subarray(21, -20)), decipher.final()]);
    expect(contents.subarray(1, 1 + BOX.site.length).toString()).toBe(BOX.site);
    expect(contents.includes(Buffer.from(BOX.rootSeed, 'hex'))).toBe(true);
  });

  it('is refused where any byte was changed', async () => {
    // One byte of format, of the rounds, of the salt, of the contents, of the tag and of the sum.
    const bytes = Buffer.from(sealed.sealed, 'hex');
    for (const at of [0, 2, 10, 60, bytes.length - 10, bytes.length - 1]) {
      const changed = Buffer.from(bytes);
      changed[at] = (changed[at] ?? 0) ^ 1;
      const other: SealedBox = { ...sealed, sealed: changed.toString('hex') };
      const opened = await openBox(platform, { sealed: other, passphrase: PASSPHRASE });
      expect(opened).toMatchObject({ ok: false, error: { code: 'box-not-whole' } });
    }
  });

  it('is read as a fact only in its form', () => {
    expect(parseSealedBox(JSON.parse(JSON.stringify(sealed)))).toEqual(sealed);
    for (const bad of [null, {}, { ...sealed, formatVersion: 2 }, { ...sealed, sealed: 'abc' }]) {
      expect(parseSealedBox(bad)).toBeNull();
    }
  });
});

describe('the printed box', () => {
  it('is short: seven groups and a check a line', () => {
    const lines = boxText(sealed).split('\n');
    expect(lines.length).toBeLessThanOrEqual(23);
    for (const line of lines.slice(0, -1))
      expect(line).toMatch(/^(?:[0-9A-HJKMNP-TV-Z]{4} ){7}[0-9A-HJKMNP-TV-Z]{4}$/);
    expect(lines.at(-1)).toMatch(/^(?:[0-9A-HJKMNP-TV-Z]{4} )+[0-9A-HJKMNP-TV-Z]{4}$/);
  });

  it('is read as printed, in small letters, without blanks, and as one line', () => {
    const text = boxText(sealed);
    for (const typed of [
      text,
      text.toLowerCase(),
      text.replaceAll(' ', ''),
      `\n${text.replaceAll('\n', '\r\n\r\n')}\n`,
      text.replaceAll('\n', ' '),
      text.replaceAll('0', 'o').replaceAll('1', 'l'),
    ]) {
      expect(got(boxFromText(typed))).toEqual(sealed);
    }
  });

  it('names the line in which one digit is another, left out or added', () => {
    const lines = boxText(sealed).split('\n');
    fc.assert(
      fc.property(
        fc.nat({ max: lines.length - 1 }),
        fc.nat({ max: 30 }),
        fc.constantFrom('another', 'left out', 'added'),
        (at, digit, how) => {
          const plain = (lines[at] ?? '').replaceAll(' ', '');
          const place = digit % plain.length;
          const other = plain[place] === 'A' ? 'B' : 'A';
          const middle = { another: other, 'left out': '', added: `${plain[place]}${other}` }[how];
          const typed = plain.slice(0, place) + middle + plain.slice(place + 1);
          // Two digits alike beside each other: what is left out of them is one and the same.
          const text = lines.with(at, typed).join('\n');
          const read = boxFromText(text);
          expect(read).toMatchObject({ ok: false, error: { code: 'box-line', line: at + 1 } });
        },
      ),
      { seed: 20261129, numRuns: 300 },
    );
  });

  it('names the first of two lines that changed places', () => {
    const lines = boxText(sealed).split('\n');
    const [a = '', b = ''] = lines.slice(3, 5);
    const text = lines.with(3, b).with(4, a).join('\n');
    expect(boxFromText(text)).toMatchObject({ ok: false, error: { code: 'box-line', line: 4 } });
  });

  it('tells that lines are missing at the end, and that there is none at all', () => {
    const lines = boxText(sealed).split('\n');
    for (const text of [lines.slice(0, -1).join('\n'), '', ' \n']) {
      expect(boxFromText(text)).toMatchObject({ ok: false, error: { code: 'box-not-whole' } });
    }
  });
});

describe('seeds of the server', () => {
  it('are written as nkeys write them', () => {
    // @nats-io/nkeys, the library of the server's own makers.
    for (const [kind, prefix] of [
      ['operator', Prefix.Operator],
      ['account', Prefix.Account],
    ] as const) {
      for (let n = 0; n < 50; n += 1) {
        const seed = new TextDecoder().decode(createPair(prefix).getSeed());
        const raw = rawOfSeed(kind, seed);
        if (raw === null) throw new Error(`no seed: ${seed}`);
        expect(seedOfRaw(kind, raw)).toBe(seed);
        expect(fromSeed(new TextEncoder().encode(seedOfRaw(kind, raw))).getPublicKey()).toMatch(
          kind === 'operator' ? /^O/ : /^A/,
        );
        expect(rawOfSeed(kind === 'operator' ? 'account' : 'operator', seed)).toBeNull();
        expect(
          rawOfSeed(
            kind,
            seed.replace(/.$/, (last) => (last === 'A' ? 'B' : 'A')),
          ),
        ).toBeNull();
      }
    }
  });
});

describe('base 32', () => {
  it('gives back any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 80 }), (bytes) => {
        const text = toCrockford(bytes);
        expect(text).toMatch(/^[0-9A-HJKMNP-TV-Z]*$/);
        expect(fromCrockford(text)).toEqual(new Uint8Array(bytes));
        expect(typedDigits(text.toLowerCase())).toBe(text);
      }),
      { seed: 20261129 },
    );
  });

  it('counts as RFC 4648, section 6, with other digits', () => {
    // "foobar" is MZXW6YTBOI there; Crockford’s digits stand at the same places of the alphabet.
    const rfc = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
    const crockford = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
    const expected = [...'MZXW6YTBOI'].map((digit) => crockford[rfc.indexOf(digit)]).join('');
    expect(toCrockford(new TextEncoder().encode('foobar'))).toBe(expected);
  });
});
