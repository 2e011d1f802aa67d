/** Every reason for which a message is refused, seen; and which of two counts. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { signText } from '../../src/storage/signatures.ts';
import {
  type CaseKey,
  caseKeyMessage,
  clinicSecretMessage,
  makeCaseKey,
  openKeyMessage,
} from '../../src/sync/case-keys.ts';
import { importSecret, keysOf } from '../../src/sync/clinic-secret.ts';
import { sealFrame } from '../../src/sync/frame.ts';
import { signStatement } from '../../src/sync/members.ts';
import {
  type Opener,
  openMessage,
  sealEntries,
  sealFact,
  statementIn,
} from '../../src/sync/seal.ts';
import type { RefusedCode, Sealer, SignedStatement } from '../../src/sync/sealed-types.ts';
import type { Bytes, StoredMessage, StreamName } from '../../src/sync/store-types.ts';
import { type Place, placeText, subjectOf } from '../../src/sync/subjects.ts';
import {
  entriesOf,
  got,
  makeClinic,
  openerOf,
  platform,
  stored,
  type TestClinic,
  type TestTablet,
} from './clinic.ts';

interface World {
  readonly clinic: TestClinic;
  readonly a: TestTablet;
  readonly b: TestTablet;
  readonly caseKey: CaseKey;
  readonly statements: readonly SignedStatement[];
  readonly opener: Opener;
  fact(sealer?: Sealer): Promise<StoredMessage>;
}

const FACT = { kind: 'fact-stock', id: 'bottle-1', value: { left: 3 } };

async function world(): Promise<World> {
  const clinic = await makeClinic();
  const a = await clinic.tablet('deviceA');
  const b = await clinic.tablet('deviceB');
  const secret = present(a.sealer.membership.secrets[0], 'a secret');
  const { caseKey } = await makeCaseKey(platform, { caseId: 'case-1', secret });
  const statements = [a.paired, b.paired];
  return {
    clinic,
    a,
    b,
    caseKey,
    statements,
    opener: openerOf(b, { statements, caseKeys: [caseKey] }),
    fact: async (sealer = a.sealer) => stored(got(await sealFact(sealer, FACT))),
  };
}

/** The message with other bytes, under the name that these bytes have. */
function withData(message: StoredMessage, data: Bytes): StoredMessage {
  const place = message.subject.split('.').slice(0, -1).join('.');
  const named = subjectOf({ stream: 'F', site: 's', device: 'd', item: 'i', number: null }, data);
  return { ...message, data, subject: `${place}.${named.split('.').at(-1)}` };
}

/** The message under the name of another place. */
const moved = (message: StoredMessage, place: Place): StoredMessage => ({
  ...message,
  stream: place.stream,
  subject: subjectOf(place, message.data),
});

const FACT_PLACE: Place = {
  stream: 'F',
  site: 'siteA',
  device: 'deviceA',
  item: 'stock',
  number: null,
};
const ENTRY_PLACE: Place = { ...FACT_PLACE, stream: 'J', item: 'case-1', number: 0 };

/** A message that holds any text, under the right key of its place. */
async function holding(w: World, o: { readonly place?: Place; readonly text: string }) {
  const place = o.place ?? FACT_PLACE;
  const secret = present(w.a.sealer.membership.secrets[0], 'a secret');
  const { id, facts } = await keysOf(platform, secret);
  const isCase = place.stream === 'J';
  const data = await sealFrame(platform, {
    key: isCase ? w.caseKey.key : facts,
    keyId: isCase ? w.caseKey.id : id,
    place: placeText(place),
    text: o.text,
  });
  return { stream: place.stream, seq: 1, subject: subjectOf(place, data), data, keptAt: '' };
}

/** One whose signature is right, whatever it says. */
async function saying(
  w: World,
  o: { readonly place?: Place; readonly payload: unknown; readonly more?: object },
) {
  const place = o.place ?? FACT_PLACE;
  const { payload } = o;
  const text = canonicalText({ what: 'lutewatch-message', place: placeText(place), payload });
  const signature = await signText(platform, w.a.sealer.keys, text);
  return holding(w, { place, text: JSON.stringify({ payload, signature, ...o.more }) });
}

const codeOf = async (opener: Opener, message: StoredMessage): Promise<RefusedCode | 'opened'> => {
  const result = await openMessage(opener, message);
  return result.ok ? 'opened' : result.error.code;
};

const putOut = (w: World, after: Readonly<Record<StreamName, number>>) =>
  signStatement(platform, {
    site: w.clinic.site,
    root: w.clinic.root,
    statement: { type: 'put-out', device: 'deviceA', reason: 'lost', atWallMs: 5, after },
  });

const entriesPayload = (over: object) => ({
  type: 'entries',
  caseId: 'case-1',
  entries: entriesOf('case-1', 2),
  ...over,
});

type Case = (w: World) => Promise<readonly (readonly [string, StoredMessage, Opener?])[]>;

/** No code is without its cases: the type of the table asks for each. */
const CASES: Readonly<Record<RefusedCode, Case>> = {
  'not-a-message': async (w) => {
    const fact = await w.fact();
    const cut = fact.data.slice(0, -1);
    return [
      ['its hash is that of other bytes', { ...fact, data: fact.data.slice(1) }],
      ['its name has a part too many', { ...fact, subject: `${fact.subject}.x` }],
      ['its name is of no stream', { ...fact, subject: fact.subject.replace(/^f/, 'x') }],
      ['another stream holds it', { ...fact, stream: 'J' }],
      ['it is a message of keys', moved(fact, { ...ENTRY_PLACE, stream: 'K', number: 1 })],
      ['it is empty', withData(fact, new Uint8Array())],
      ['a byte is missing', withData(fact, cut)],
      ['it is of a format to come', withData(fact, fact.data.with(0, 9) as Bytes)],
    ];
  },
  'other-clinic': async (w) => {
    const other = await (await makeClinic('siteB')).tablet('deviceA');
    return [['of another site', await w.fact(other.sealer)]];
  },
  'unknown-tablet': async (w) => {
    const stranger = await w.clinic.tablet('deviceX');
    return [['no statement names it', await w.fact(stranger.sealer)]];
  },
  'put-out': async (w) => {
    const statements = [...w.statements, await putOut(w, { J: 9, F: 4, K: 9 })];
    const opener = openerOf(w.b, { statements });
    return [['it came after the last that counts', { ...(await w.fact()), seq: 5 }, opener]];
  },
  'no-key': async (w) => {
    const entries = entriesOf('case-1', 1);
    const sealed = got(await sealEntries(w.a.sealer, { caseKey: w.caseKey, entries }));
    const newer = await importSecret(platform, { version: 2, secret: '22'.repeat(32) });
    const { membership } = w.a.sealer;
    const secrets = [...membership.secrets, newer];
    const sealer = { ...w.a.sealer, membership: { ...membership, secrets } };
    return [
      ['a case key that is not here', stored(sealed), openerOf(w.b, w)],
      ['a newer secret', await w.fact(sealer)],
    ];
  },
  'does-not-open': async (w) => {
    const fact = await w.fact();
    const entries = entriesOf('case-1', 2);
    const told = stored(got(await sealEntries(w.a.sealer, { caseKey: w.caseKey, entries })));
    return [
      ['moved to another tablet', moved(fact, { ...FACT_PLACE, device: 'deviceB' })],
      ['moved to another kind', moved(fact, { ...FACT_PLACE, item: 'approval' })],
      ['moved to another place of the case', moved(told, { ...ENTRY_PLACE, number: 1 })],
      [
        'a bit of it is another',
        withData(fact, fact.data.with(100, (fact.data[100] ?? 0) ^ 1) as Bytes),
      ],
    ];
  },
  'bad-signature': async (w) => {
    const { membership } = w.a.sealer;
    const posing: Sealer = { ...w.b.sealer, membership };
    const payload = { type: 'fact', ...FACT };
    return [
      ['another tablet of the clinic seals in its name', await w.fact(posing)],
      ['no signature', await holding(w, { text: JSON.stringify({ payload }) })],
      ['a signature of no form', await saying(w, { payload, more: { signature: 'zz' } })],
      [
        'a signature of nothing',
        await saying(w, { payload, more: { signature: '00'.repeat(64) } }),
      ],
      ['something beside the signature', await saying(w, { payload, more: { also: 1 } })],
    ];
  },
  'bad-payload': async (w) => {
    const deep = `${'['.repeat(200)}${']'.repeat(200)}`;
    const half = `{"payload":"\\ud800","signature":"${'00'.repeat(64)}"}`;
    const two = entriesOf('case-1', 2);
    const told = (over: object) => saying(w, { place: ENTRY_PLACE, payload: entriesPayload(over) });
    const fact = (payload: unknown) => saying(w, { payload });
    return [
      ['no JSON', await holding(w, { text: 'hello' })],
      ['brackets in brackets', await holding(w, { text: deep })],
      ['half a character', await holding(w, { text: half })],
      ['more than is ever sent, packed', await holding(w, { text: ' '.repeat(5_000_000) })],
      ['nothing', await fact(null)],
      ['a type to come', await fact({ type: 'poll' })],
      ['a fact of another kind', await fact({ type: 'fact', ...FACT, kind: 'fact-approval' })],
      ['a document that is no fact', await fact({ type: 'fact', ...FACT, kind: 'stock' })],
      ['a fact without a value', await fact({ type: 'fact', kind: FACT.kind, id: FACT.id })],
      ['a fact with more', await fact({ type: 'fact', ...FACT, more: 1 })],
      ['a fact with an endless id', await fact({ type: 'fact', ...FACT, id: 'x'.repeat(501) })],
      ['entries among facts', await fact(entriesPayload({}))],
      [
        'a fact among entries',
        await saying(w, { place: ENTRY_PLACE, payload: { type: 'fact', ...FACT } }),
      ],
      [
        'a tombstone of another kind',
        await fact({ type: 'tombstone', caseId: 'case-1', value: {} }),
      ],
      [
        'a tombstone that is none',
        await saying(w, {
          place: { ...FACT_PLACE, item: 'tombstone' },
          payload: { type: 'tombstone', caseId: 'case-1', value: { caseId: 'case-1' } },
        }),
      ],
      ['no entries', await told({ entries: [] })],
      ['entries of another case', await told({ caseId: 'case-2' })],
      ['entries of two cases', await told({ entries: [two[0], entriesOf('case-2', 2)[1]] })],
      ['entries with a gap', await told({ entries: [two[0], entriesOf('case-1', 3)[2]] })],
      ['entries from another place on', await told({ entries: two.slice(1) })],
      ['what is no entry', await told({ entries: [{ seq: 0 }] })],
    ];
  },
};

describe.each(Object.entries(CASES))('%s', (code, make) => {
  it('is said of it', async () => {
    const w = await world();
    const cases = await make(w);
    const said = await Promise.all(
      cases.map(async ([name, message, opener]) => [
        name,
        await codeOf(opener ?? w.opener, message),
      ]),
    );
    expect(said).toEqual(cases.map(([name]) => [name, code]));
  });
});

describe('of two reasons the first counts', () => {
  it('in the order in which they can be seen', async () => {
    const w = await world();
    const stranger = await (await makeClinic('siteB', '33'.repeat(32))).tablet('deviceX');
    const fact = await w.fact(stranger.sealer);
    // Of another clinic, of an unknown tablet, under an unknown key.
    expect(await codeOf(w.opener, { ...fact, stream: 'J' })).toBe('not-a-message');
    expect(await codeOf(w.opener, fact)).toBe('other-clinic');
    const here = moved(fact, { ...FACT_PLACE, device: 'deviceX' });
    expect(await codeOf(w.opener, here)).toBe('unknown-tablet');
    const inName = moved(fact, FACT_PLACE);
    const statements = [...w.statements, await putOut(w, { J: 0, F: 0, K: 0 })];
    expect(await codeOf(openerOf(w.b, { statements }), inName)).toBe('put-out');
    expect(await codeOf(w.opener, inName)).toBe('no-key');
    const bad = await holding(w, {
      text: JSON.stringify({ payload: { type: 'poll' }, signature: '00'.repeat(64) }),
    });
    expect(
      await codeOf(w.opener, withData(bad, bad.data.with(30, (bad.data[30] ?? 0) ^ 1) as Bytes)),
    ).toBe('does-not-open');
    expect(await codeOf(w.opener, bad)).toBe('bad-signature');
  });
});

it('no byte of a message can be another one', async () => {
  const w = await world();
  const fact = await w.fact();
  expect(await codeOf(w.opener, fact)).toBe('opened');
  const wanted = (at: number): RefusedCode => {
    if (at === 0) return 'not-a-message';
    return at < 9 ? 'no-key' : 'does-not-open';
  };
  for (let at = 0; at < fact.data.length; at += 1) {
    // Format 1 becomes 9, which is none.
    const changed = fact.data.with(at, (fact.data[at] ?? 0) ^ 8) as Bytes;
    expect([at, await codeOf(w.opener, { ...fact, data: changed })]).toEqual([at, 'not-a-message']);
    expect([at, await codeOf(w.opener, withData(fact, changed))]).toEqual([at, wanted(at)]);
  }
  // Format 1 and format 2 are both known, and bound.
  const other = fact.data.with(0, 2) as Bytes;
  expect(await codeOf(w.opener, withData(fact, other))).toBe('does-not-open');
});

it('a message that was kept again elsewhere in the stream says the same, and no more', async () => {
  const w = await world();
  const fact = await w.fact();
  const again = await openMessage(w.opener, { ...fact, seq: 77 });
  expect(got(again)).toEqual(got(await openMessage(w.opener, fact)));
});

it('what a tablet said before it was put out still counts', async () => {
  const w = await world();
  const statements = [...w.statements, await putOut(w, { J: 9, F: 4, K: 9 })];
  const opener = openerOf(w.b, { statements });
  expect(await codeOf(opener, { ...(await w.fact()), seq: 4 })).toBe('opened');
});

describe('a statement', () => {
  const carrying = (value: unknown) => ({ kind: 'fact-tablet', id: 'x', value: { said: value } });

  it('is taken from whoever carries it, for the root key vouches for it', async () => {
    const w = await world();
    const stranger = await w.clinic.tablet('deviceX');
    const message = stored(got(await sealFact(stranger.sealer, carrying(stranger.paired))));
    expect(await codeOf(w.opener, message)).toBe('unknown-tablet');
    expect(await statementIn(w.opener, message)).toEqual(stranger.paired);
    const opener = openerOf(w.b, { statements: [...w.statements, stranger.paired] });
    expect(await codeOf(opener, message)).toBe('opened');
  });

  it('is not taken where the root key of another clinic signed it', async () => {
    const w = await world();
    const other = await (await makeClinic()).tablet('deviceX');
    const message = stored(got(await sealFact(w.a.sealer, carrying(other.paired))));
    expect(await codeOf(w.opener, message)).toBe('opened');
    expect(await statementIn(w.opener, message)).toBeNull();
    expect(await statementIn(w.opener, await w.fact())).toBeNull();
  });
});

describe('a message of keys', () => {
  async function keys() {
    const w = await world();
    const secret = present(w.a.sealer.membership.secrets[0], 'a secret');
    const { wrapped } = await makeCaseKey(platform, { caseId: 'case-1', secret });
    const message = stored(await caseKeyMessage(w.a.sealer, wrapped));
    const K: Place = { ...FACT_PLACE, stream: 'K', item: 'case-1', number: 1 };
    const say = async (message_: StoredMessage, opener = w.opener) => {
      const result = await openKeyMessage(opener, message_);
      return result.ok ? 'opened' : result.error.code;
    };
    return { w, wrapped, message, K, say };
  }

  it('is refused for the same reasons', async () => {
    const { w, wrapped, message, K, say } = await keys();
    expect(await say(message)).toBe('opened');
    expect(await say({ ...message, data: message.data.slice(1) })).toBe('not-a-message');
    expect(await say({ ...message, stream: 'F' })).toBe('not-a-message');
    expect(await say(await w.fact())).toBe('not-a-message');
    expect(await say(moved(message, { ...K, site: 'siteB' }))).toBe('other-clinic');
    expect(await say(moved(message, { ...K, device: 'deviceX' }))).toBe('unknown-tablet');
    const statements = [...w.statements, await putOut(w, { J: 9, F: 9, K: 0 })];
    expect(await say(message, openerOf(w.b, { statements }))).toBe('put-out');
    expect(await say(moved(message, { ...K, item: 'case-2' }))).toBe('bad-signature');
    expect(await say(moved(message, { ...K, number: 2 }))).toBe('bad-signature');
    expect(await say(moved(message, { ...K, device: 'deviceB' }))).toBe('bad-signature');
    const posing = { ...w.b.sealer, membership: w.a.sealer.membership };
    expect(await say(stored(await caseKeyMessage(posing, wrapped)))).toBe('bad-signature');
    // Signed by the right tablet, and saying another version than its name.
    const at = { ...K, number: 2 };
    const payload = { type: 'case-key', ...wrapped };
    const text = canonicalText({ what: 'lutewatch-message', place: placeText(at), payload });
    const signature = await signText(platform, w.a.sealer.keys, text);
    const data = new TextEncoder().encode(canonicalText({ payload, signature }));
    expect(await say(stored({ subject: subjectOf(at, data), data }))).toBe('bad-payload');
    const bad = await caseKeyMessage(w.a.sealer, { ...wrapped, wrapped: 'zz' });
    expect(await say(stored(bad))).toBe('bad-payload');
  });

  it('with a new secret counts only where the root key signed it', async () => {
    const { w, say } = await keys();
    const secret = { version: 2, sealed: [] };
    const { root } = w.clinic;
    expect(await say(stored(await clinicSecretMessage(w.a.sealer, { secret, root })))).toBe(
      'opened',
    );
    const own = w.a.sealer.keys;
    const forged = await clinicSecretMessage(w.a.sealer, { secret, root: own });
    expect(await say(stored(forged))).toBe('bad-signature');
    // A tablet may not hand out its case key under the clinic's name either.
    const { wrapped } = await makeCaseKey(platform, {
      caseId: 'clinic',
      secret: present(w.a.sealer.membership.secrets[0], 'a secret'),
    });
    expect(await say(stored(await caseKeyMessage(w.a.sealer, wrapped)))).toBe('bad-signature');
  });
});
