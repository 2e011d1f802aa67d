/** Who belongs to the clinic, from signed statements in any order. */
import { createPrivateKey, createPublicKey, sign } from 'node:crypto';
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isSignedBy, signText } from '../../src/storage/signatures.ts';
import {
  foldMembers,
  memberAt,
  membersIn,
  signStatement,
  verifiedStatement,
} from '../../src/sync/members.ts';
import { rootKeys } from '../../src/sync/root-key.ts';
import type { SignedStatement, TabletStatement } from '../../src/sync/sealed-types.ts';
import { makeClinic, platform } from './clinic.ts';

const paired = (device: string, over: object = {}): SignedStatement => ({
  statement: {
    type: 'paired',
    device,
    name: `Tablet ${device}`,
    signingKey: 'aa'.repeat(32),
    sealingKey: 'bb'.repeat(65),
    user: `U${device}`,
    atWallMs: 10,
    ...over,
  },
  signature: '',
});
const renamed = (device: string, name: string, atWallMs: number): SignedStatement => ({
  statement: { type: 'renamed', device, name, atWallMs },
  signature: '',
});
const putOut = (device: string, J: number, over: object = {}): SignedStatement => ({
  statement: {
    type: 'put-out',
    device,
    reason: 'lost',
    atWallMs: 50,
    after: { J, F: J + 1, K: J + 2 },
    ...over,
  },
  signature: '',
});

const nameOf = (statements: readonly SignedStatement[], device = 'a') =>
  foldMembers(statements).get(device)?.name;

describe('the members', () => {
  it('are those that a statement pairs', () => {
    const members = foldMembers([paired('a'), paired('b'), renamed('c', 'Nobody', 3)]);
    expect([...members.keys()].toSorted()).toEqual(['a', 'b']);
    expect(members.get('a')).toEqual({
      device: 'a',
      name: 'Tablet a',
      signingKey: 'aa'.repeat(32),
      sealingKey: 'bb'.repeat(65),
      user: 'Ua',
      pairedAtWallMs: 10,
      putOut: null,
    });
  });

  it('have the name that they were given last', () => {
    const list = [paired('a'), renamed('a', 'Room 2', 30), renamed('a', 'Room 1', 20)];
    expect(nameOf(list)).toBe('Room 2');
    // A clock that was years behind does not lose the only new name.
    expect(nameOf([paired('a'), renamed('a', 'Room 3', -1e12)])).toBe('Room 3');
  });

  it('are out for good once they were put out, at the earliest place', () => {
    const members = foldMembers([
      putOut('a', 7),
      paired('a'),
      putOut('a', 5, { atWallMs: 60 }),
      paired('a', { atWallMs: 99, signingKey: 'cc'.repeat(32) }),
      paired('b'),
    ]);
    expect(members.get('a')?.putOut).toEqual({ atWallMs: 50, after: { J: 5, F: 6, K: 7 } });
    expect(members.get('a')?.signingKey).toBe('aa'.repeat(32));
    expect(membersIn(members).map(({ device }) => device)).toEqual(['b']);
  });

  it('count up to the last message before they were put out, stream by stream', () => {
    const members = foldMembers([paired('a'), putOut('a', 5)]);
    const at = (stream: 'J' | 'F' | 'K', seq: number) => {
      const member = memberAt(members, { device: 'a', stream, seq });
      return typeof member === 'string' ? member : member.device;
    };
    expect([at('J', 5), at('J', 6), at('F', 6), at('F', 7), at('K', 7), at('K', 8)]).toEqual([
      'a',
      'put-out',
      'a',
      'put-out',
      'a',
      'put-out',
    ]);
    expect(memberAt(members, { device: 'x', stream: 'J', seq: 1 })).toBe('unknown-tablet');
  });

  it('are the same in whatever order, and however often, statements come', () => {
    const device = fc.constantFrom('a', 'b', 'c');
    // Few instants and names, so that many statements stand at one time.
    const at = fc.integer({ min: 0, max: 3 });
    const name = fc.constantFrom('Room 1', 'Room 2', 'Room 3');
    const key = fc.constantFrom('aa', 'bb', 'cc').map((two) => two.repeat(32));
    const statement = fc.oneof(
      fc.record({ device, name, atWallMs: at, signingKey: key }).map((o) => paired(o.device, o)),
      fc.tuple(device, name, at).map(([d, n, t]) => renamed(d, n, t)),
      fc
        .record({ device, J: at, atWallMs: at })
        .map((o) => putOut(o.device, o.J, { atWallMs: o.atWallMs })),
    );
    const inOrder = (list: readonly SignedStatement[]) =>
      [...foldMembers(list)].toSorted(([a], [b]) => (a < b ? -1 : 1));
    fc.assert(
      fc.property(
        fc
          .array(statement, { maxLength: 14 })
          .chain((list) =>
            fc.tuple(
              fc.constant(list),
              fc.shuffledSubarray([...list, ...list], { minLength: list.length * 2 }),
            ),
          ),
        ([list, shuffled]) => {
          expect(inOrder(shuffled)).toEqual(inOrder(list));
          // One after the other gives what all at once give.
          const half = Math.floor(list.length / 2);
          expect(inOrder([...list.slice(half), ...list.slice(0, half)])).toEqual(inOrder(list));
        },
      ),
      { seed: 20261129, numRuns: 2000 },
    );
  });
});

describe('a statement', () => {
  const said: TabletStatement = { type: 'renamed', device: 'a', name: 'Room 2', atWallMs: 3 };

  it('counts where the root key of this clinic signed it, and otherwise not', async () => {
    const { root, site } = await makeClinic();
    const other = await makeClinic();
    const signed = await signStatement(platform, { site, root, statement: said });
    const by = { site, rootKey: root.publicKey };
    expect(await verifiedStatement(platform, by, JSON.parse(JSON.stringify(signed)))).toEqual(
      signed,
    );
    const foreign = await signStatement(platform, { site, root: other.root, statement: said });
    const elsewhere = await signStatement(platform, { site: 'siteB', root, statement: said });
    const changed = { ...signed, statement: { ...said, name: 'Room 3' } };
    for (const bad of [foreign, elsewhere, changed]) {
      expect(await verifiedStatement(platform, by, bad)).toBeNull();
    }
  });

  it('is read only in its form', async () => {
    const { root, site } = await makeClinic();
    const by = { site, rootKey: root.publicKey };
    const whole = paired('a').statement;
    const bad: readonly object[] = [
      { ...whole, type: 'lent' },
      { ...whole, device: 'a.b' },
      { ...whole, name: '' },
      { ...whole, name: 'x'.repeat(201) },
      { ...whole, signingKey: 'aa' },
      { ...whole, sealingKey: 'bb'.repeat(32) },
      { ...whole, atWallMs: '10' },
      { ...whole, more: 1 },
      { ...putOut('a', 1).statement, after: { J: 1, F: 1 } },
      { ...putOut('a', 1).statement, after: { J: -1, F: 1, K: 1 } },
    ];
    for (const statement of bad) {
      const signed = await signStatement(platform, {
        site,
        root,
        statement: statement as TabletStatement,
      });
      expect([statement, await verifiedStatement(platform, by, signed)]).toEqual([statement, null]);
    }
    const good = await signStatement(platform, { site, root, statement: whole });
    expect(await verifiedStatement(platform, by, good)).not.toBeNull();
    for (const none of [null, 3, {}, { statement: whole }, { ...good, signature: 'zz' }]) {
      expect(await verifiedStatement(platform, by, none)).toBeNull();
    }
  });

  it('is signed as node:crypto signs it', async () => {
    const seed = '07'.repeat(32);
    const root = await rootKeys(platform, seed);
    const { signature } = await signStatement(platform, { site: 'siteA', root, statement: said });
    const der = Buffer.from(`302e020100300506032b657004220420${seed}`, 'hex');
    const key = createPrivateKey({ key: der, format: 'der', type: 'pkcs8' });
    const text =
      canonicalize({ what: 'lutewatch-statement', site: 'siteA', statement: said }) ?? '';
    expect(signature).toBe(sign(null, Buffer.from(text), key).toString('hex'));
    const spki = createPublicKey(key).export({ format: 'der', type: 'spki' });
    expect(root.publicKey).toBe(spki.subarray(-32).toString('hex'));
  });
});

describe('the root key', () => {
  const refuse = () => Promise.reject(new DOMException('not here', 'NotSupportedError'));
  const without = {
    subtle: { importKey: refuse, exportKey: refuse, sign: refuse, verify: refuse },
  } as unknown as Crypto;

  it.each([
    ['the platform', platform],
    ['the library', without],
  ])('is that of RFC 8032, section 7.1, TEST 2, by %s', async (_, crypto) => {
    const seed = '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb';
    const keys = await rootKeys(crypto, seed);
    expect(keys.publicKey).toBe('3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c');
    const signature = await signText(crypto, keys, 'r');
    expect(signature).toMatch(/^92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da/);
    expect(await isSignedBy(platform, { publicKey: keys.publicKey, signature, text: 'r' })).toBe(
      true,
    );
  });
});
