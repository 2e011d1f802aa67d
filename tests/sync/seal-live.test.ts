/** Pictures and presence: sealed, signed, counted; what is old or foreign is dropped. */
import { describe, expect, it } from 'vitest';
import { makeLiveReader, openLive, sealLive } from '../../src/sync/live-seal.ts';
import { signStatement } from '../../src/sync/members.ts';
import type { Sealer } from '../../src/sync/sealed-types.ts';
import type { Bytes } from '../../src/sync/store-types.ts';
import { hereSubject, liveSubject } from '../../src/sync/subjects.ts';
import { got, makeClinic, openerOf, platform } from './clinic.ts';

const subject = liveSubject({ site: 'siteA', device: 'deviceA', what: 'chair' });

async function watching() {
  const clinic = await makeClinic();
  const a = await clinic.tablet('deviceA');
  const b = await clinic.tablet('deviceB');
  const opener = openerOf(b, { statements: [a.paired, b.paired] });
  const picture = (counter: number, sealer: Sealer = a.sealer, on = subject) =>
    sealLive(sealer, { subject: on, counter, value: { bar: `picture ${counter}` } });
  return { clinic, a, b, opener, picture };
}

describe('a picture', () => {
  it('is seen by the other tablet', async () => {
    const { opener, picture } = await watching();
    expect(got(await openLive(opener, { subject, data: await picture(7) }))).toEqual({
      device: 'deviceA',
      what: 'chair',
      counter: 7,
      value: { bar: 'picture 7' },
    });
  });

  it('tells of presence too', async () => {
    const { opener, picture, a } = await watching();
    const here = hereSubject({ site: 'siteA', device: 'deviceA' });
    const data = await picture(1, a.sealer, here);
    expect(got(await openLive(opener, { subject: here, data })).what).toBe('');
  });

  it('is dropped where it is older than the last one, or comes twice', async () => {
    const { opener, picture, a } = await watching();
    const read = makeLiveReader(() => opener);
    const said = async (counter: number, on = subject) => {
      const result = await read({ subject: on, data: await picture(counter, a.sealer, on) });
      return result.ok ? result.value.counter : result.error;
    };
    expect([await said(3), await said(5), await said(4), await said(5), await said(6)]).toEqual([
      3,
      5,
      'older',
      'older',
      6,
    ]);
    // Each subject counts by itself.
    expect(await said(1, hereSubject({ site: 'siteA', device: 'deviceA' }))).toBe(1);
  });

  it('that is older is dropped also where both are opened at one time', async () => {
    const { opener, picture } = await watching();
    const read = makeLiveReader(() => opener);
    const data = await Promise.all([8, 9, 7, 9].map((counter) => picture(counter)));
    const results = await Promise.all(data.map((each) => read({ subject, data: each })));
    const taken = results.flatMap((result) => (result.ok ? [result.value.counter] : []));
    expect(taken).toEqual([...new Set(taken)].toSorted((a, b) => a - b));
    expect(taken).toContain(9);
  });

  it('is refused where it is foreign, moved, changed, or of a tablet that was put out', async () => {
    const { clinic, a, b, opener, picture } = await watching();
    const data = await picture(7);
    const codeOf = async (on: string, bytes: Bytes, by = opener) => {
      const result = await openLive(by, { subject: on, data: bytes });
      return result.ok ? 'opened' : result.error;
    };
    expect(await codeOf(subject, data)).toBe('opened');
    expect(await codeOf('live.siteA.deviceA', data)).toBe('not-a-message');
    expect(await codeOf(`${subject}.more`, data)).toBe('not-a-message');
    expect(await codeOf('here.siteA.deviceA.chair', data)).toBe('not-a-message');
    expect(await codeOf(subject, data.slice(1))).toBe('not-a-message');
    expect(await codeOf(subject, new Uint8Array(300_000))).toBe('not-a-message');
    expect(await codeOf('live.siteB.deviceA.chair', data)).toBe('other-clinic');
    expect(await codeOf('live.siteA.deviceX.chair', data)).toBe('unknown-tablet');
    expect(await codeOf('live.siteA.deviceA.other', data)).toBe('does-not-open');
    expect(await codeOf('live.siteA.deviceB.chair', data)).toBe('does-not-open');
    const changed = data.with(40, (data[40] ?? 0) ^ 1) as Bytes;
    expect(await codeOf(subject, changed)).toBe('does-not-open');
    const other = await (await makeClinic('siteA', '77'.repeat(32))).tablet('deviceA');
    expect(await codeOf(subject, await picture(7, other.sealer))).toBe('no-key');
    // Another tablet of the clinic has the secret, and can seal; it cannot sign in the name of this one.
    const posing: Sealer = { ...b.sealer, membership: a.sealer.membership };
    expect(await codeOf(subject, await picture(7, posing))).toBe('bad-signature');
    const negative = await picture(-1);
    expect(await codeOf(subject, negative)).toBe('bad-payload');
    const putOut = await signStatement(platform, {
      site: 'siteA',
      root: clinic.root,
      statement: {
        type: 'put-out',
        device: 'deviceA',
        reason: 'lost',
        atWallMs: 1,
        after: { J: 9, F: 9, K: 9 },
      },
    });
    const later = openerOf(b, { statements: [a.paired, b.paired, putOut] });
    expect(await codeOf(subject, data, later)).toBe('put-out');
  });
});
