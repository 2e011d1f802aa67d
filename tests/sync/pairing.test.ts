/** Both ends of a pairing over a line that loses and doubles, and somebody in between who has the code. */
import { webcrypto } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { newServerSeeds } from '../../src/sync/accounts.ts';
import { joinedBy, joinedByBox, newBox, welcomeFor } from '../../src/sync/founding.ts';
import { newPairCode, type PairCode, typedPairCode } from '../../src/sync/pair-code.ts';
import {
  type Answer,
  commitOf,
  type EarlyMessage,
  type Founding,
  type JoinRequest,
  keyOfCode,
  type LateMessage,
  openPair,
  sealPair,
  sessionKey,
  transcriptOf,
  type Welcome,
} from '../../src/sync/pair-messages.ts';
import { CODE_VALID_MS, JoinPairing, LeadPairing, NO_ANSWER_MS } from '../../src/sync/pairing.ts';
import { makeSealingKeys, publicSealingKey } from '../../src/sync/sealed-for.ts';
import { platform } from './clinic.ts';
import {
  askedBy,
  HandTimers,
  jwtFor,
  ownKeys,
  settled,
  until,
  Wire,
  watched,
} from './pair-ends.ts';

const NOW = 1_790_000_000_000;

function founding(device: string): Founding {
  return { type: 'founding', site: 'siteA', device, seeds: newServerSeeds(), isDemo: true };
}

async function boxOfClinic() {
  return newBox(platform, founding('deviceA'));
}

interface Ends {
  readonly wire: Wire;
  readonly timers: HandTimers;
  readonly code: PairCode;
  readonly lead: LeadPairing;
  readonly join: JoinPairing;
  readonly asked: readonly JoinRequest[];
}

async function ends(o: {
  readonly accept: (request: JoinRequest) => Promise<Welcome | Founding | null>;
  readonly request: JoinRequest;
  readonly typed?: string;
  readonly wire?: Wire;
}): Promise<Ends> {
  const wire = o.wire ?? new Wire();
  const timers = new HandTimers();
  const code = await newPairCode(platform);
  const typed = await typedPairCode(platform, o.typed ?? code.text);
  if (typed === null) throw new Error('no code');
  const asked: JoinRequest[] = [];
  const parts = { crypto: watched, timers, nowWallMs: NOW };
  const lead = new LeadPairing(
    { ...parts, code, line: wire.end('lead') },
    {
      accept: (request) => {
        asked.push(request);
        return o.accept(request);
      },
    },
  );
  const join = new JoinPairing({ ...parts, code: typed, line: wire.end('new') }, o.request);
  return { wire, timers, code, lead, join, asked };
}

async function clinicAndNew(wire?: Wire) {
  const box = await boxOfClinic();
  const first = await ownKeys('deviceA');
  const founder = await joinedByBox(platform, {
    box,
    own: first,
    isDemo: true,
    nowWallMs: NOW,
    jwtFor,
  });
  const own = await ownKeys();
  const request = await askedBy(own);
  const accept = async (asking: JoinRequest) => {
    const { statements } = founder;
    const o = { box, request: asking, statements, isDemo: true, nowWallMs: NOW, jwtFor };
    return (await welcomeFor(platform, o))?.welcome ?? null;
  };
  const both = await ends({ accept, request, ...(wire === undefined ? {} : { wire }) });
  return { ...both, own, box, founder };
}

describe('a tablet is let in', () => {
  it('once a person saw the same digits on both screens', async () => {
    const { lead, join, own, asked, wire, box } = await clinicAndNew();
    const [there, here] = await Promise.all([until(lead, 'compare'), until(join, 'compare')]);
    expect(there.digits).toMatch(/^\d{6}$/);
    expect(here.digits).toBe(there.digits);
    expect(lead.request?.name).toBe('Room 3');
    await settled();
    expect(join.given).toBeNull();
    expect(asked).toEqual([]);
    await lead.confirm();
    await until(join, 'done');
    if (join.given?.type !== 'welcome') throw new Error('no welcome');
    const joined = await joinedBy(platform, { welcome: join.given, own });
    expect(joined?.membership).toMatchObject({ site: 'siteA', device: own.device, isDemo: true });
    expect(joined?.membership.line.seed).toBe(own.user.seed);
    expect(joined?.statements.map(({ statement }) => statement.device)).toEqual([
      'deviceA',
      own.device,
    ]);
    // The lead's tablet counts it in only once it keeps what it was given.
    expect(lead.state.step).toBe('compare');
    expect(await join.finish()).toBe(true);
    expect(lead.state.step).toBe('done');
    // Nothing that went over the line holds the secret, a seed or a name in the clear.
    const heard = wire.sent.map(({ data }) => Buffer.from(data).toString('latin1')).join('');
    const secret = box.secrets[0]?.secret ?? '';
    const raw = Buffer.from(secret, 'hex').toString('latin1');
    for (const each of [own.user.seed, box.rootSeed, own.name, secret, raw]) {
      expect(heard).not.toContain(each);
    }
  });

  it('over a line that loses every second message of each side and doubles the others', async () => {
    const wire = new Wire();
    const counts = { new: 0, lead: 0 };
    wire.times = (from) => {
      counts[from] += 1;
      return counts[from] % 2 === 0 ? 2 : 0;
    };
    const { lead, join, timers } = await clinicAndNew(wire);
    await settled();
    for (let s = 0; s < 10 && lead.state.step !== 'compare'; s += 1) await timers.pass(1000);
    expect(lead.state.step).toBe('compare');
    await lead.confirm();
    for (let s = 0; s < 10 && join.state.step !== 'done'; s += 1) await timers.pass(1000);
    const told = join.finish();
    for (let s = 0; s < 10 && lead.state.step !== 'done'; s += 1) await timers.pass(1000);
    await timers.pass(9_000);
    expect(await told).toBe(true);
    expect(lead.state.step).toBe('done');
  });
});

describe('a tablet is not let in', () => {
  it('with a wrong code: nothing answers', async () => {
    const own = await ownKeys();
    const request = await askedBy(own);
    const typed = 'ABCD EFGH JKMN PQRS';
    const { join, lead, timers, wire } = await ends({ accept: async () => null, request, typed });
    await settled();
    await timers.pass(NO_ANSWER_MS - 1);
    expect(join.state.step).toBe('waiting');
    await timers.pass(1);
    expect(join.state).toMatchObject({ step: 'failed', problem: 'no-answer' });
    expect(wire.sent.every(({ from }) => from === 'new')).toBe(true);
    expect(lead.state.step).toBe('waiting');
  });

  it('after ten minutes', async () => {
    const { lead, join, timers } = await clinicAndNew();
    await until(lead, 'compare');
    await timers.pass(CODE_VALID_MS);
    expect(lead.state).toMatchObject({ step: 'failed', problem: 'code-expired' });
    expect(join.state.step).toBe('failed');
    await lead.confirm();
    await settled();
    expect(join.given).toBeNull();
  });

  it('where the lead stops it', async () => {
    const { lead, join } = await clinicAndNew();
    await until(lead, 'compare');
    await until(join, 'compare');
    lead.stop();
    expect((await until(join, 'failed')).problem).toBe('stopped-there');
    expect((await until(lead, 'failed')).problem).toBe('stopped');
    await lead.confirm();
    await settled();
    expect(join.given).toBeNull();
  });

  it('where it is stopped on the tablet, whose line is closed at once', async () => {
    const { lead, join, wire } = await clinicAndNew();
    await until(lead, 'compare');
    await until(join, 'compare');
    join.onState(({ step }) => {
      if (step === 'failed') wire.times = () => 0;
    });
    join.stop();
    expect((await until(lead, 'failed')).problem).toBe('stopped-there');
  });

  it('where a second tablet uses the code', async () => {
    const { lead, join, code, wire, timers } = await clinicAndNew();
    await until(lead, 'compare');
    const request = await askedBy(await ownKeys('deviceOther'));
    const parts = { crypto: watched, timers, nowWallMs: NOW, code, line: wire.end('new') };
    const other = new JoinPairing(parts, request);
    expect((await until(lead, 'failed')).problem).toBe('two-tablets');
    expect((await until(join, 'failed')).problem).toBe('stopped-there');
    expect((await until(other, 'failed')).problem).toBe('stopped-there');
  });

  it('where a tablet of its id was there before', async () => {
    const box = await boxOfClinic();
    const own = await ownKeys('deviceA');
    const byBox = { box, own, isDemo: true, nowWallMs: NOW, jwtFor };
    const { statements } = await joinedByBox(platform, byBox);
    const request = await askedBy(await ownKeys('deviceA'));
    const o = { box, request, statements, isDemo: true, nowWallMs: NOW, jwtFor };
    expect(await welcomeFor(platform, o)).toBeNull();
  });

  it('by a welcome whose root key does not vouch for its keys', async () => {
    const box = await boxOfClinic();
    const own = await ownKeys();
    const o = { box, statements: [], isDemo: true, nowWallMs: NOW, jwtFor };
    const made = await welcomeFor(platform, { ...o, request: await askedBy(own) });
    if (made === null) throw new Error('no welcome');
    const { welcome } = made;
    expect(await joinedBy(platform, { welcome, own })).not.toBeNull();
    const { signing, sealing } = await ownKeys();
    expect(await joinedBy(platform, { welcome, own: { ...own, signing } })).toBeNull();
    expect(await joinedBy(platform, { welcome, own: { ...own, sealing } })).toBeNull();
    expect(await joinedBy(platform, { welcome, own: { ...own, device: 'deviceB' } })).toBeNull();
    const named = { ...welcome, device: 'deviceB' };
    expect(await joinedBy(platform, { welcome: named, own })).toBeNull();
    const { welcome: foreign } = (await welcomeFor(platform, {
      ...o,
      box: await boxOfClinic(),
      request: await askedBy(own),
    })) ?? { welcome };
    const mixed = { ...welcome, rootKey: foreign.rootKey };
    expect(await joinedBy(platform, { welcome: mixed, own })).toBeNull();
  });
});

describe('somebody in between who knows the code', () => {
  it('makes the digits differ, and gets nothing that was meant for the tablet', async () => {
    // Two whole pairings: the tablet with the one in between, and the one in between with the lead.
    const seen: string[] = [];
    for (let round = 0; round < 5; round += 1) {
      const { lead, code, wire: toLead } = await withoutJoin();
      const toNew = new Wire();
      const timers = new HandTimers();
      const parts = { crypto: watched, timers, nowWallMs: NOW, code };
      const false_ = new LeadPairing(
        { ...parts, line: toNew.end('lead') },
        { accept: async () => null },
      );
      const join = new JoinPairing(
        { ...parts, line: toNew.end('new') },
        await askedBy(await ownKeys()),
      );
      const falseJoin = new JoinPairing(
        { ...parts, line: toLead.end('new') },
        await askedBy(await ownKeys('deviceFalse')),
      );
      const [a, b] = await Promise.all([until(join, 'compare'), until(lead, 'compare')]);
      await Promise.all([until(false_, 'compare'), until(falseJoin, 'compare')]);
      expect(a.digits).not.toBe(b.digits);
      seen.push(a.digits ?? '', b.digits ?? '');
    }
    expect(new Set(seen).size).toBe(10);
  });

  it('cannot commit to keys and show others', async () => {
    const w = await withoutJoin();
    const { reveal } = await byHand();
    const commit = commitOf(w.code.id, { ...reveal, nonce: '11'.repeat(16) });
    await w.say({ type: 'hello', commit });
    await w.say(reveal);
    expect((await until(w.lead, 'failed')).problem).toBe('not-as-committed');
  });

  it('cannot show what is no key', async () => {
    const w = await withoutJoin();
    const reveal = { ...(await byHand()).reveal, key: `04${'00'.repeat(64)}` };
    await w.say({ type: 'hello', commit: commitOf(w.code.id, reveal) });
    await w.say(reveal);
    expect((await until(w.lead, 'failed')).problem).toBe('not-as-committed');
  });

  it('cannot pass on what the tablet shows and answer with a key of its own', async () => {
    const w = await withoutJoin();
    const toNew = new Wire();
    const { timers, code } = w;
    const parts = { crypto: watched, timers, nowWallMs: NOW, code };
    const join = new JoinPairing(
      { ...parts, line: toNew.end('new') },
      await askedBy(await ownKeys()),
    );
    // Everything of the tablet goes on unchanged; the answer of the lead is replaced.
    toNew.end('lead').onMessage((data) => w.wire.deliver('new', data));
    const own = await byHand();
    w.wire.end('new').onMessage((data) => {
      void openPair(watched, { id: code.id, side: 'lead', keys: [keyOfCode(code)], data }).then(
        async (heard) => {
          if (heard?.message.type !== 'answer') return;
          const message = { ...heard.message, key: own.reveal.key };
          const by = keyOfCode(code);
          toNew.deliver(
            'lead',
            await sealPair(watched, { id: code.id, side: 'lead', by, message }),
          );
        },
      );
    });
    await settled();
    await timers.pass(2_000);
    const [here, there] = await Promise.all([until(join, 'compare'), until(w.lead, 'compare')]);
    expect(w.lead.request?.device).toBe('deviceNew');
    expect(here.digits).not.toBe(there.digits);
  });

  it('is not let in by saying that it was', async () => {
    const w = await withoutJoin();
    const { reveal, keys } = await byHand();
    const answers: Answer[] = [];
    w.wire.end('new').onMessage((data) => {
      void openPair(watched, { id: w.code.id, side: 'lead', keys: [keyOfCode(w.code)], data }).then(
        (heard) => {
          if (heard?.message.type === 'answer') answers.push(heard.message);
        },
      );
    });
    await w.say({ type: 'hello', commit: commitOf(w.code.id, reveal) });
    await settled();
    await w.say(reveal);
    await until(w.lead, 'compare');
    const answer = present(answers[0], 'an answer');
    const transcript = transcriptOf(w.code.id, { reveal, answer });
    const o = { code: w.code, own: keys.privateKey, other: answer.key, transcript };
    await w.say({ type: 'done' }, present(await sessionKey(platform, o), 'a key'));
    await settled();
    expect(w.lead.state.step).toBe('compare');
  });
});

/** What a new tablet would show. */
async function byHand() {
  const keys = await makeSealingKeys(platform);
  const request = await askedBy(await ownKeys('deviceFalse'));
  const key = await publicSealingKey(platform, keys);
  return {
    keys,
    request,
    reveal: { type: 'reveal' as const, request, key, nonce: '00'.repeat(16) },
  };
}

async function withoutJoin() {
  const wire = new Wire();
  const timers = new HandTimers();
  const code = await newPairCode(platform);
  const parts = { crypto: watched, timers, nowWallMs: NOW, code, line: wire.end('lead') };
  const lead = new LeadPairing(parts, { accept: async () => null });
  /** Says something in the name of a new tablet. */
  const say = async (message: EarlyMessage | LateMessage, by = keyOfCode(code)) =>
    wire.deliver('new', await sealPair(watched, { id: code.id, side: 'new', by, message }));
  return { wire, timers, code, lead, say };
}

describe('a tablet founds the clinic', () => {
  it('with seeds from beside the server; the secret and the root key are made on it', async () => {
    const own = await ownKeys('deviceA');
    const request = await askedBy(own);
    const { lead, join, timers } = await ends({
      accept: async ({ device }) => founding(device),
      request,
    });
    await until(lead, 'compare');
    await lead.confirm();
    await until(join, 'done');
    if (join.given?.type !== 'founding') throw new Error('no founding');
    const box = newBox(platform, join.given);
    expect(box).toMatchObject(join.given.seeds);
    expect(box.secrets).toHaveLength(1);
    // A passphrase is chosen meanwhile; the end beside the server keeps its seeds until it is told.
    await timers.pass(30 * 60_000);
    expect(lead.state.step).toBe('compare');
    const byBox = { box, own, isDemo: true, nowWallMs: NOW, jwtFor };
    const joined = await joinedByBox(platform, byBox);
    expect(joined.membership.line.jwt.split('.')).toHaveLength(3);
    expect(await join.finish()).toBe(true);
    expect(lead.state.step).toBe('done');
  });

  it('again, where the first tablet died in between', async () => {
    const request = await askedBy(await ownKeys('deviceA'));
    const { lead, join, wire, code, timers } = await ends({
      accept: async ({ device }) => founding(device),
      request,
    });
    await until(lead, 'compare');
    await lead.confirm();
    await until(join, 'done');
    join.stop();
    expect(lead.state.step).toBe('compare');
    // The same code, typed again: the end beside the server sees that it is another, and makes a new one.
    const parts = { crypto: watched, timers, nowWallMs: NOW, code, line: wire.end('new') };
    const again = new JoinPairing(parts, await askedBy(await ownKeys('deviceB')));
    expect((await until(lead, 'failed')).problem).toBe('two-tablets');
    again.stop();
  });
});

describe('a code', () => {
  it('is read as it is typed: small letters, no blanks, I and L for 1, O for 0', async () => {
    const code = await typedPairCode(platform, '0123-4567 89ab CDEF');
    expect(code?.text).toBe('0123 4567 89AB CDEF');
    expect((await typedPairCode(platform, 'oi2345 6789abcdef'))?.text).toBe(code?.text);
    expect(await typedPairCode(platform, '0123 4567 89AB CDE')).toBeNull();
    expect(await typedPairCode(platform, '0123 4567 89AB CDEU')).toBeNull();
  });

  it('has 80 bits that are all used, and an id that does not show them', async () => {
    const codes = await Promise.all(Array.from({ length: 50 }, () => newPairCode(platform)));
    expect(new Set(codes.map(({ id }) => id)).size).toBe(50);
    for (const { bytes, text, id } of codes) {
      expect(bytes).toHaveLength(10);
      expect((await typedPairCode(webcrypto as unknown as Crypto, text))?.id).toBe(id);
    }
  });
});
