/**
 * A journal that was cut at its end verifies as whole; an anchor that was kept elsewhere knows better.
 * Signatures: Ed25519 (RFC 8032), made and checked here by Node's own Web Crypto.
 */
import { webcrypto } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { anchorText, headStatement, parseAnchor } from '../../src/export/anchor.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import type { SigningCrypto } from '../../src/storage/signatures.ts';
import { isSignedBy, makeTabletKeys, signText } from '../../src/storage/signatures.ts';
import { finished, sourceOf } from './journals.ts';

const crypto = webcrypto as unknown as SigningCrypto;
const caseId = 'case-1';
const { entries } = sourceOf(finished().log);
const last = entries.at(-1);
const head = last?.hash ?? '';
const whole = { caseId, entries: entries.length, head };

async function signedAnchor(o = whole): Promise<string> {
  const keys = await makeTabletKeys(crypto);
  if (keys === null) throw new Error('this Node has no Ed25519');
  const signature = await signText(crypto, keys, headStatement(o));
  return anchorText({ ...o, signed: { publicKey: keys.publicKey, signature } });
}

async function record(args: readonly string[], kept = entries) {
  const text = journalJson({ caseId, entries: kept });
  const [out, errors]: [string[], string[]] = [[], []];
  const code = await main(['record', 'x.json', ...args], {
    readFile: async () => text,
    stdout: (words) => out.push(words),
    stderr: (words) => errors.push(words),
  });
  return { code, out: out.join(''), errors: errors.join('') };
}

const plain = anchorText({ ...whole, signed: null });

describe('record with an anchor', () => {
  it('finds what was cut off the end, which the chain alone does not', async () => {
    const cut = entries.slice(0, -3);
    expect(await record([], cut)).toMatchObject({ code: 0, errors: '' });
    const { code, out, errors } = await record(['--anchor', plain], cut);
    expect(code).toBe(1);
    expect(errors).toBe(
      `journal.entries: expected the ${entries.length} entries that the anchor names, got ${cut.length} entries\n`,
    );
    expect(out).toContain(
      `Cut short: ${cut.length} of the ${entries.length} entries that the anchor names are here`,
    );
  });

  it('finds other entries than the anchor names', async () => {
    const other = anchorText({ ...whole, head: '0'.repeat(64), signed: null });
    const { code, errors } = await record([`--anchor=${other}`]);
    expect(code).toBe(1);
    expect(errors).toContain(
      `journal.entries[${entries.length - 1}].hash: expected ${'0'.repeat(64)}`,
    );
  });

  it('holds for a whole case, and for one that was added to', async () => {
    const earlier = entries[4]?.hash ?? '';
    const anchor = anchorText({ entries: 5, head: earlier, signed: null });
    expect(await record(['--anchor', plain])).toMatchObject({ code: 0, errors: '' });
    expect(await record(['--anchor', anchor])).toMatchObject({ code: 0, errors: '' });
  });

  it('says whose key signed it, and what that shows', async () => {
    const anchor = await signedAnchor();
    const { code, out } = await record(['--anchor', anchor]);
    expect(code).toBe(0);
    expect(out).toContain(`Anchor: ${anchor}`);
    expect(out).toContain(
      'The tablet with that key held these entries. The signature does not show who pressed',
    );
  });

  it('finds a signature that was made for another case, or changed', async () => {
    const other = await signedAnchor({ ...whole, caseId: 'case-2' });
    expect(await record(['--anchor', other])).toMatchObject({
      code: 1,
      errors:
        'record.--anchor: expected a signature that fits its key and this case, got another\n',
    });
  });

  it.each(['', '57', `0:${head}`, `57:${head}:ab:cd`, `${plain}:`])(
    'refuses %j as one',
    async (bad) => {
      const { code, errors } = await record(['--anchor', bad]);
      expect(code).toBe(2);
      expect(errors).toContain('record.--anchor: expected an anchor as a record prints it');
      expect(parseAnchor(bad)).toBeNull();
    },
  );
});

it('a signature fits by the test vector of RFC 8032, section 7.1, test 1', async () => {
  const o = {
    publicKey: 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    signature:
      'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155' +
      '5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
    text: '',
  };
  expect(await isSignedBy(crypto, o)).toBe(true);
  expect(await isSignedBy(crypto, { ...o, text: 'x' })).toBe(false);
});
