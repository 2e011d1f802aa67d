/** A tablet is put out: who has the new secret, whose word counts, what is wrapped anew. */
import { createCipheriv, createDecipheriv, createECDH, createHash, hkdfSync } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { newServerSeeds } from '../../src/sync/accounts.ts';
import {
  makeCaseKey,
  openCaseKey,
  openKeyMessage,
  type WrappedCaseKey,
} from '../../src/sync/case-keys.ts';
import {
  importSecret,
  keysOf,
  makeSecret,
  newestSecret,
  withSecret,
} from '../../src/sync/clinic-secret.ts';
import {
  joinedBy,
  joinedByBox,
  newBox,
  type OwnKeys,
  welcomeFor,
} from '../../src/sync/founding.ts';
import { foldMembers } from '../../src/sync/members.ts';
import { type PutOutPlan, planPutOut } from '../../src/sync/rotation.ts';
import { openMessage, sealFact } from '../../src/sync/seal.ts';
import {
  makeSealingKeys,
  openClinicSecret,
  openFor,
  publicSealingKey,
  sealFor,
} from '../../src/sync/sealed-for.ts';
import type { LeadBox, Membership, Sealer, SignedStatement } from '../../src/sync/sealed-types.ts';
import { got, openerOf, platform, stored } from './clinic.ts';
import { askedBy, jwtFor, ownKeys } from './pair-ends.ts';

const NOW = 1_790_000_000_000;

interface Tablet {
  readonly own: OwnKeys;
  readonly sealer: Sealer;
}

interface Clinic {
  readonly box: LeadBox;
  readonly statements: readonly SignedStatement[];
  readonly lead: Tablet;
  readonly stays: Tablet;
  readonly lost: Tablet;
}

const tabletOf = (own: OwnKeys, membership: Membership): Tablet => ({
  own,
  sealer: { membership, keys: own.signing, crypto: platform },
});

/** The lead's tablet founded the clinic and let two in. */
async function clinic(): Promise<Clinic> {
  const own = await ownKeys('lead');
  const box = newBox(platform, {
    type: 'founding',
    site: 'siteA',
    device: 'lead',
    seeds: newServerSeeds(),
    isDemo: true,
  });
  const common = { box, isDemo: true, nowWallMs: NOW, jwtFor };
  const founded = await joinedByBox(platform, { ...common, own });
  let { statements } = founded;
  const letIn = async (device: string) => {
    const its = await ownKeys(device);
    const request = await askedBy(its);
    const made = await welcomeFor(platform, { ...common, statements, request });
    const joined = await joinedBy(platform, {
      welcome: present(made, 'a welcome').welcome,
      own: its,
    });
    statements = present(joined, 'a tablet').statements;
    return tabletOf(its, present(joined, 'a tablet').membership);
  };
  const stays = await letIn('stays');
  const lost = await letIn('lost');
  return { box, statements, lead: tabletOf(own, founded.membership), stays, lost };
}

async function plan(c: Clinic, caseKeys: readonly WrappedCaseKey[] = []): Promise<PutOutPlan> {
  return planPutOut(c.lead.sealer, {
    box: c.box,
    statements: c.statements,
    device: 'lost',
    reason: 'left on a train',
    nowWallMs: NOW + 1,
    after: { J: 10, F: 20, K: 30 },
    caseKeys,
  });
}

const holding = ({ own, sealer }: Tablet, secrets: Membership['secrets']): Tablet => ({
  own,
  sealer: { ...sealer, membership: { ...sealer.membership, secrets } },
});

/** What a tablet holds after it read the message with the new secret. */
async function told(c: Clinic, tablet: Tablet, p: PutOutPlan): Promise<Tablet | null> {
  const { membership } = tablet.sealer;
  const { site, rootKey, secrets } = membership;
  const opener = { crypto: platform, site, rootKey, members: foldMembers(c.statements) };
  const key = got(await openKeyMessage(opener, stored(p.secretMessage, 31)));
  if (key.type !== 'clinic-secret') throw new Error('no secret');
  const secret = await openClinicSecret(platform, { membership, secret: key.secret });
  if (secret === null) return null;
  return holding(tablet, await withSecret(platform, { secrets, secret }));
}

describe('a tablet is put out', () => {
  it('and does not get the new secret; those that stay do', async () => {
    const c = await clinic();
    const p = await plan(c);
    const statements = [...c.statements, p.statement];
    expect(await told(c, c.lost, p)).toBeNull();
    const stays = present(await told(c, c.stays, p), 'the new secret');
    const lead = holding(c.lead, p.secrets);
    expect(newestSecret(lead.sealer.membership.secrets).version).toBe(2);
    const fact = { kind: 'fact-stock', id: 'x', value: { left: 1 } };
    const message = stored(got(await sealFact(lead.sealer, fact)), 21);
    const seen = (tablet: Tablet) =>
      openMessage(openerOf({ ...tablet, paired: p.statement }, { statements }), message);
    expect((await seen(stays)).ok).toBe(true);
    expect(await seen(c.lost)).toMatchObject({ ok: false, error: { code: 'no-key' } });
    expect(await seen(c.stays)).toMatchObject({ ok: false, error: { code: 'no-key' } });
  });

  it('and its word counts no more, while what it said before does', async () => {
    const c = await clinic();
    const p = await plan(c);
    const statements = [...c.statements, p.statement];
    const fact = { kind: 'fact-stock', id: 'x', value: { left: 1 } };
    const sealed = got(await sealFact(c.lost.sealer, fact));
    const opener = openerOf({ ...c.stays, paired: p.statement }, { statements });
    expect((await openMessage(opener, stored(sealed, 20))).ok).toBe(true);
    expect(await openMessage(opener, stored(sealed, 21))).toMatchObject({
      error: { code: 'put-out' },
    });
    expect(p.shutOut).toEqual([c.lost.own.user.user]);
  });

  it('and case keys are wrapped anew; one that does not open is left as it is', async () => {
    const c = await clinic();
    const [old] = c.lead.sealer.membership.secrets;
    const made = await makeCaseKey(platform, {
      caseId: 'case-1',
      secret: present(old, 'a secret'),
    });
    const foreign = await importSecret(platform, { version: 1, secret: makeSecret(platform) });
    const strange = await makeCaseKey(platform, { caseId: 'case-2', secret: foreign });
    const p = await plan(c, [made.wrapped, strange.wrapped]);
    expect(p.keysLeft).toEqual([strange.wrapped]);
    const [anew] = p.keys;
    expect(anew?.wrapped).toMatchObject({ caseId: 'case-1', version: 2, keyId: made.caseKey.id });
    expect(anew?.message.subject).toMatch(/^k\.siteA\.lead\.case-1\.2\.[0-9a-f]{16}$/);
    const wrapped = present(anew, 'a key').wrapped;
    const { secrets } = c.lost.sealer.membership;
    expect(await openCaseKey(platform, { wrapped, secrets })).toEqual({
      ok: false,
      error: 'no-key',
    });
    const opened = got(await openCaseKey(platform, { wrapped, secrets: p.secrets }));
    expect(opened.id).toBe(made.caseKey.id);
  });

  it('and the box holds the new secret beside the old ones', async () => {
    const c = await clinic();
    const { box } = await plan(c);
    expect(box.secrets.map(({ version }) => version)).toEqual([1, 2]);
    expect(box.secrets[0]).toEqual(c.box.secrets[0]);
    const own = await ownKeys('found-again');
    const o = { box, own, isDemo: true, nowWallMs: NOW, jwtFor };
    const { membership } = await joinedByBox(platform, o);
    expect(membership.secrets.map(({ version }) => version)).toEqual([1, 2]);
  });

  it('and a thousand case keys are wrapped in seconds', async () => {
    const c = await clinic();
    const secret = present(c.lead.sealer.membership.secrets[0], 'a secret');
    const keys: WrappedCaseKey[] = [];
    for (let n = 0; n < 1000; n += 1) {
      keys.push((await makeCaseKey(platform, { caseId: `case-${n}`, secret })).wrapped);
    }
    const p = await plan(c, keys);
    expect(p.keys).toHaveLength(1000);
    expect(new Set(p.keys.map(({ message }) => message.subject)).size).toBe(1000);
  });
});

describe('two leads put out at one time', () => {
  it('make two secrets of one version, and every tablet comes to hold both in one order', async () => {
    const c = await clinic();
    const [p, q] = [await plan(c), await plan(c)];
    const one = present(await told(c, c.stays, p), 'a secret');
    const pq = present(await told(c, one, q), 'a secret');
    const two = present(await told(c, c.stays, q), 'a secret');
    const qp = present(await told(c, two, p), 'a secret');
    const ids = (tablet: Tablet) =>
      Promise.all(
        tablet.sealer.membership.secrets.map(async (each) => (await keysOf(platform, each)).id),
      );
    expect(await ids(pq)).toHaveLength(3);
    expect(await ids(qp)).toEqual(await ids(pq));
    // Once more changes nothing.
    const again = present(await told(c, pq, p), 'a secret');
    expect(await ids(again)).toEqual(await ids(pq));
  });
});

describe('what is sealed for one tablet', () => {
  const what = { site: 'siteA', device: 'stays', version: 2 };
  const info = 'lutewatch clinic-secret 1 for siteA.stays.2';
  const SECRET = '42'.repeat(32);

  const keyOf = (shared: Buffer, ephemeral: Buffer, own: Buffer) =>
    Buffer.from(hkdfSync('sha256', shared, Buffer.concat([ephemeral, own]), info, 32));

  it('is opened by node:crypto: ECDH P-256, HKDF, AES-256-GCM', async () => {
    // Its key agreement is that of RFC 5903, section 8.1.
    const judge = createECDH('prime256v1');
    judge.setPrivateKey('C88F01F510D9AC3F70A292DAA2316DE544E9AAB8AFE84049C62A9C57862D1433', 'hex');
    const other =
      '04D12DFB5289C8D4F81208B70270398C342296970A0BCCB74C736FC7554494BF63' +
      '56FBF3CA366CC23E8157854C13C58D6AAC23F046ADA30F8353E74F33039872AB';
    expect(judge.computeSecret(other, 'hex', 'hex').toUpperCase()).toBe(
      'D6840F6B42F6EDAFD13116E0E12565202FEF8E9ECE7DCE03812464D04B9442DE',
    );

    const sealingKey = judge.getPublicKey('hex');
    const sealed = await sealFor(platform, { what, sealingKey, secret: SECRET });
    const ephemeral = Buffer.from(sealed.ephemeral, 'hex');
    const box = Buffer.from(sealed.box, 'hex');
    const key = keyOf(judge.computeSecret(ephemeral), ephemeral, judge.getPublicKey());
    const decipher = createDecipheriv('aes-256-gcm', key, box.subarray(0, 12));
    decipher.setAAD(Buffer.from(info));
    decipher.setAuthTag(box.subarray(-16));
    const opened = Buffer.concat([decipher.update(box.subarray(12, -16)), decipher.final()]);
    expect(opened.toString('hex')).toBe(SECRET);
  });

  it('is opened where node:crypto sealed it', async () => {
    const keys = await makeSealingKeys(platform);
    const own = Buffer.from(await publicSealingKey(platform, keys), 'hex');
    const once = createECDH('prime256v1');
    const ephemeral = once.generateKeys();
    const iv = createHash('sha256').update('iv').digest().subarray(0, 12);
    const cipher = createCipheriv(
      'aes-256-gcm',
      keyOf(once.computeSecret(own), ephemeral, own),
      iv,
    );
    cipher.setAAD(Buffer.from(info));
    const parts = [
      iv,
      cipher.update(Buffer.from(SECRET, 'hex')),
      cipher.final(),
      cipher.getAuthTag(),
    ];
    const box = Buffer.concat(parts).toString('hex');
    const sealed = { device: 'stays', ephemeral: ephemeral.toString('hex'), box };
    expect(await openFor(platform, { what, keys, sealed })).toBe(SECRET);
  });

  it('opens for no other, for nothing else, and not once a byte is another', async () => {
    const keys = await makeSealingKeys(platform);
    const sealingKey = await publicSealingKey(platform, keys);
    const sealed = await sealFor(platform, { what, sealingKey, secret: SECRET });
    expect(await openFor(platform, { what, keys, sealed })).toBe(SECRET);
    const strange = await makeSealingKeys(platform);
    expect(await openFor(platform, { what, keys: strange, sealed })).toBeNull();
    for (const other of [{ device: 'lost' }, { site: 'siteB' }, { version: 3 }]) {
      expect(await openFor(platform, { what: { ...what, ...other }, keys, sealed })).toBeNull();
    }
    const turn = (text: string, at: number) =>
      text.slice(0, at) + (text[at] === '0' ? '1' : '0') + text.slice(at + 1);
    for (let at = 0; at < sealed.box.length; at += 1) {
      const changed = { ...sealed, box: turn(sealed.box, at) };
      expect(await openFor(platform, { what, keys, sealed: changed })).toBeNull();
    }
    for (let at = 0; at < sealed.ephemeral.length; at += 5) {
      const changed = { ...sealed, ephemeral: turn(sealed.ephemeral, at) };
      expect(await openFor(platform, { what, keys, sealed: changed })).toBeNull();
    }
  });
});
