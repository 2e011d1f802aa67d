/** Pictures as they are sealed for other tablets: what they weigh, what they cost, who is believed. */
import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import { LiveCount } from '../../src/sync/live-count.ts';
import type { LiveOpener } from '../../src/sync/live-seal.ts';
import { liveSealing, pictureOf, pictureText } from '../../src/sync/live-sealing.ts';
import { foldMembers, signStatement } from '../../src/sync/members.ts';
import type { SignedStatement } from '../../src/sync/sealed-types.ts';
import { openSharingDatabase } from '../../src/sync/sharing-database.ts';
import { eventful, followed } from '../export/journals.ts';
import { makeClinic, platform, type TestTablet } from '../sync/clinic.ts';

let databases = 0;
const subject = 'live.siteA.chair-1.picture';

function sealingOf(tablet: TestTablet, statements: readonly SignedStatement[], nowMs = () => 1000) {
  const { site, secrets } = tablet.sealer.membership;
  const opener = (): LiveOpener => ({
    crypto: platform,
    site,
    secrets,
    members: foldMembers(statements),
  });
  databases += 1;
  const count = new LiveCount(openSharingDatabase(`live-${databases}`), nowMs);
  return liveSealing({ sealer: () => tablet.sealer, opener, nextCount: () => count.next() });
}

/** The picture of a running case, as the chair makes it. */
const pictureOfChair = (chair: ReturnType<typeof eventful>) => ({
  type: 'picture',
  from: 'run',
  picture: {
    caseId: 'case-1',
    mode: 'patient',
    entries: chair.log.records.length,
    view: chair.view,
    now: chair.clock.stamp(),
    speed: 1,
    typed: null,
    answers: {},
    by: 'assistant-b',
  },
});

/** Of a case of eight units in its midst, and of one with a gap. */
const PICTURES = [followed('eight-upper-veneers', 100), eventful()].map(pictureOfChair);

describe('a picture', () => {
  test('is on the other tablet what it was here, unknown ends too', () => {
    for (const picture of PICTURES) {
      expect(pictureOf(pictureText(picture))).toEqual(structuredClone(picture));
    }
    const odd = { hiMs: Number.POSITIVE_INFINITY, loMs: Number.NEGATIVE_INFINITY, text: 'x' };
    expect(pictureOf(pictureText(odd))).toEqual(odd);
    expect(pictureOf('{')).toBeNull();
    expect(pictureOf('['.repeat(5000))).toBeNull();
  });

  test('is opened by the tablets of the clinic alone, each once and none that is older', async () => {
    const clinic = await makeClinic();
    const [chair, wall, other] = [
      await clinic.tablet('chair-1'),
      await clinic.tablet('wall'),
      await clinic.tablet('other'),
    ];
    const sealing = sealingOf(chair, []);
    const [first, second] = [
      await sealing.seal({ subject, value: 'etch 12' }),
      await sealing.seal({ subject, value: 'rinse 12' }),
    ];
    const wallReads = sealingOf(wall, [chair.paired]);
    expect(await wallReads.open({ subject, data: second })).toEqual({
      device: 'chair-1',
      value: 'rinse 12',
    });
    expect(await wallReads.open({ subject, data: second })).toBeNull();
    expect(await wallReads.open({ subject, data: first })).toBeNull();
    // Nobody vouches for it here; sealed by another tablet under this name; moved; put out.
    expect(await sealingOf(wall, []).open({ subject, data: first })).toBeNull();
    const forged = await sealingOf(other, []).seal({ subject, value: 'light 12' });
    const all = [chair.paired, other.paired];
    expect(await sealingOf(wall, all).open({ subject, data: forged })).toBeNull();
    const moved = subject.replace('chair-1', 'other');
    expect(await sealingOf(wall, all).open({ subject: moved, data: first })).toBeNull();
    const after = { J: 0, F: 0, K: 0 };
    const out = { type: 'put-out', device: 'chair-1', reason: 'lost', atWallMs: 2, after } as const;
    const { root } = clinic;
    const putOut = await signStatement(platform, { site: 'siteA', root, statement: out });
    expect(await sealingOf(wall, [...all, putOut]).open({ subject, data: first })).toBeNull();
  });

  test('is numbered on over a restart, also where the clock went back', async () => {
    const clinic = await makeClinic();
    const chair = await clinic.tablet('chair-1');
    const wall = await clinic.tablet('wall');
    const reads = sealingOf(wall, [chair.paired]);
    let nowMs = 5000;
    const before = sealingOf(chair, [], () => nowMs);
    for (const value of ['a', 'b', 'c']) {
      nowMs -= 1000;
      const data = await before.seal({ subject, value });
      expect(await reads.open({ subject, data })).toMatchObject({ value });
    }
    const data = await sealingOf(chair, [], () => 9000).seal({ subject, value: 'd' });
    expect(await reads.open({ subject, data })).toMatchObject({ value: 'd' });
  });

  test('weighs a few kilobytes and costs little', async () => {
    const clinic = await makeClinic();
    const chair = await clinic.tablet('chair-1');
    const wall = await clinic.tablet('wall');
    const sealing = sealingOf(chair, []);
    const reads = sealingOf(wall, [chair.paired]);
    const beat = { message: { type: 'beat', from: 'run' }, words: ['w'.repeat(36)] };
    const [long] = PICTURES;
    const report: string[] = [];
    for (const [name, value] of [
      ['beat', beat],
      ['picture', { message: long, words: ['w'] }],
    ] as const) {
      const sent: Awaited<ReturnType<typeof sealing.seal>>[] = [];
      const times: number[] = [];
      const opening: number[] = [];
      for (let n = 0; n < 60; n += 1) {
        const from = performance.now();
        sent.push(await sealing.seal({ subject, value }));
        times.push(performance.now() - from);
      }
      for (const data of sent) {
        const from = performance.now();
        expect(await reads.open({ subject, data })).not.toBeNull();
        opening.push(performance.now() - from);
      }
      const at = (all: readonly number[], share: number) =>
        all.toSorted((a, b) => a - b)[Math.floor(all.length * share)]?.toFixed(2);
      const text = pictureText(value).length;
      report.push(
        `${name}: ${text} characters, ${sent[0]?.length} bytes; sealed in ms p50 ${at(times, 0.5)} p99 ${at(times, 0.99)}, opened p50 ${at(opening, 0.5)} p99 ${at(opening, 0.99)}`,
      );
      // The server takes 256 kB; a picture that nears it would be lost in silence.
      expect(sent[0]?.length).toBeLessThan(name === 'beat' ? 700 : 20_000);
    }
    console.log(report.join('\n'));
  });
});
