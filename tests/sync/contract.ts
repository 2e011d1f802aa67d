/** What every store of a clinic keeps: the same tests for the one in memory and the one over a server. */
import { randomBytes, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Bytes, ClinicStore, StoredMessage, StoreLine } from '../../src/sync/store-types.ts';
import { hereSubject, liveSubject, pairSubject, subjectOf } from '../../src/sync/subjects.ts';

/** A clinic to test: its stores come in one by one, each for a tablet. */
export interface ClinicUnderTest {
  readonly site: string;
  readonly open: (device: string) => Promise<ClinicStore>;
  readonly openPairing: () => Promise<ClinicStore>;
  /** Throws a tablet out for good. */
  readonly putOut: (device: string) => Promise<void>;
  /** Takes one message away for good. */
  readonly erase: (stream: 'J' | 'F' | 'K', seq: number) => Promise<void>;
  readonly end: () => Promise<void>;
}

export const bytes = (length: number): Bytes => new Uint8Array(randomBytes(length));
/** A name for a tablet, as tablets make theirs. */
export const newDevice = (): string => randomUUID();

/** Waits until it holds, at most `ms`; the test says what it waited for. */
export async function until(what: string, holds: () => boolean, ms = 8000): Promise<void> {
  const end = performance.now() + ms;
  while (!holds()) {
    if (performance.now() > end) throw new Error(`It did not come to this in ${ms} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

export async function opened(store: ClinicStore): Promise<ClinicStore> {
  let line: StoreLine = 'connecting';
  store.onLine((now) => {
    line = now;
  });
  await until('a line', () => line === 'open');
  return store;
}

/** The value of a success; a failure fails the test in words. */
export async function done<T>(
  asked: Promise<
    { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: unknown }
  >,
): Promise<T> {
  const result = await asked;
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

export async function failure(
  asked: Promise<{ readonly ok: boolean; readonly error?: { readonly code: string } }>,
): Promise<string> {
  const result = await asked;
  return result.ok || result.error === undefined ? 'ok' : result.error.code;
}

/** `make` is called once. */
export function contractOf(name: string, make: () => Promise<ClinicUnderTest>): void {
  describe(name, () => {
    let clinic: ClinicUnderTest;
    const [a, b] = [newDevice(), newDevice()];
    let [storeA, storeB]: ClinicStore[] = [];

    beforeAll(async () => {
      clinic = await make();
      storeA = await opened(await clinic.open(a));
      storeB = await opened(await clinic.open(b));
    });
    afterAll(async () => {
      await storeA?.close();
      await storeB?.close();
      await clinic?.end();
    });

    const both = (): readonly [ClinicStore, ClinicStore] => {
      if (storeA === undefined || storeB === undefined) throw new Error('no stores');
      return [storeA, storeB];
    };
    const fact = (device: string, data = bytes(300)) => ({
      stream: 'F' as const,
      subject: subjectOf(
        { stream: 'F', site: clinic.site, device, item: 'lot', number: null },
        data,
      ),
      data,
    });
    const entry = (device: string, number: number, data = bytes(300)) => ({
      stream: 'J' as const,
      subject: subjectOf({ stream: 'J', site: clinic.site, device, item: 'case-1', number }, data),
      data,
    });
    const key = (device: string, data = bytes(60)) => ({
      stream: 'K' as const,
      subject: subjectOf(
        { stream: 'K', site: clinic.site, device, item: 'case-1', number: 1 },
        data,
      ),
      data,
    });

    it('has no last message while it is empty', async () => {
      const [storeOfA] = both();
      for (const stream of ['J', 'F', 'K'] as const) {
        expect(await done(storeOfA.last(stream))).toBeNull();
        expect(await done(storeOfA.get({ stream, seq: 1 }))).toBeNull();
      }
    });

    it('keeps a message once, whoever sends it how often', async () => {
      const [storeOfA, storeOfB] = both();
      const message = fact(a);
      expect(await done(storeOfA.put(message))).toEqual({ fresh: true });
      expect(await done(storeOfA.put(message))).toEqual({ fresh: false });
      const last = await done(storeOfB.last('F'));
      expect(last).toMatchObject({ stream: 'F', subject: message.subject });
      expect(last?.data).toEqual(message.data);
      expect(await done(storeOfB.get({ stream: 'F', seq: (last?.seq ?? 0) + 1 }))).toBeNull();
    });

    it('keeps the first bytes of a subject, not the last', async () => {
      const [storeOfA, storeOfB] = both();
      const message = key(a);
      expect(await done(storeOfA.put(message))).toEqual({ fresh: true });
      expect(await done(storeOfA.put({ ...message, data: bytes(60) }))).toEqual({ fresh: false });
      expect((await done(storeOfB.last('K')))?.data).toEqual(message.data);
    });

    it('keeps two entries for one place, and hands them out in the order they came in', async () => {
      const [storeOfA, storeOfB] = both();
      const sent = [entry(a, 1), entry(a, 2), entry(a, 2)];
      for (const each of sent) await done(storeOfA.put(each));
      const read: StoredMessage[] = [];
      for (let seq = 1; ; ) {
        const next = await done(storeOfB.get({ stream: 'J', seq }));
        if (next === null) break;
        read.push(next);
        seq = next.seq + 1;
      }
      expect(read.map(({ subject }) => subject)).toEqual(sent.map(({ subject }) => subject));
      expect(read.map(({ data }) => data)).toEqual(sent.map(({ data }) => data));
    });

    it('goes over what was erased', async () => {
      const [storeOfA] = both();
      await done(storeOfA.put(entry(a, 7)));
      const middle = await done(storeOfA.last('J'));
      await done(storeOfA.put(entry(a, 8)));
      const last = await done(storeOfA.last('J'));
      await clinic.erase('J', middle?.seq ?? 0);
      expect(await done(storeOfA.get({ stream: 'J', seq: middle?.seq ?? 0 }))).toEqual(last);
    });

    it('tells of what is stored, with the number under which it can be read', async () => {
      const [storeOfA, storeOfB] = both();
      const heard: StoredMessage[] = [];
      const stop = storeOfB.onStored((message) => heard.push(message));
      await settle(storeOfB);
      const sent = [fact(a), entry(a, 20), key(a)];
      for (const each of sent) await done(storeOfA.put(each));
      await until('three messages', () => heard.length >= 3);
      expect(heard.map(({ subject }) => subject)).toEqual(sent.map(({ subject }) => subject));
      for (const each of heard) {
        const read = await done(storeOfB.get({ stream: each.stream, seq: each.seq }));
        expect(read).toEqual({ ...each, keptAt: expect.stringMatching(/./) });
      }
      stop();
      await done(storeOfA.put(fact(a)));
      await settle(storeOfB);
      expect(heard).toHaveLength(3);
    });

    it('refuses what is too large, before it is sent', async () => {
      const [storeOfA] = both();
      expect(await failure(storeOfA.put(fact(a, bytes(200_001))))).toBe('too-large');
      expect(await done(storeOfA.put(fact(a, bytes(199_000))))).toEqual({ fresh: true });
    });

    it('lets a tablet write only its own branches', async () => {
      const [storeOfA, storeOfB] = both();
      const before = await done(storeOfB.last('F'));
      expect(await failure(storeOfA.put(fact(b)))).toBe('refused');
      expect(await failure(storeOfA.put(key(b)))).toBe('refused');
      expect(await failure(storeOfA.put(entry(b, 1)))).toBe('refused');
      expect(await done(storeOfB.last('F'))).toEqual(before);
      // And goes on with its own.
      expect(await done(storeOfA.put(fact(a)))).toEqual({ fresh: true });
    });

    it('finds the answer of another stream out', async () => {
      const [storeOfA] = both();
      expect(await failure(storeOfA.put({ ...fact(a), stream: 'K' }))).toBe('wrong-store');
    });

    it('carries pictures and presence, its own only', async () => {
      const [storeOfA, storeOfB] = both();
      const heard: [string, Bytes][] = [];
      const stop = storeOfB.live.subscribe('live.>', (subject, data) =>
        heard.push([subject, data]),
      );
      storeOfB.live.subscribe('here.>', (subject, data) => heard.push([subject, data]));
      await settle(storeOfB);
      const { site } = clinic;
      const picture = bytes(2000);
      storeOfA.live.publish(liveSubject({ site, device: a, what: 'chair' }), bytes(300_000));
      storeOfA.live.publish(liveSubject({ site, device: b, what: 'chair' }), bytes(10));
      storeOfA.live.publish(liveSubject({ site, device: a, what: 'chair' }), picture);
      storeOfA.live.publish(hereSubject({ site, device: a }), bytes(20));
      await until('picture and presence', () => heard.length >= 2);
      expect(heard[0]).toEqual([liveSubject({ site, device: a, what: 'chair' }), picture]);
      expect(heard[1]?.[0]).toBe(hereSubject({ site, device: a }));
      stop();
      storeOfA.live.publish(liveSubject({ site, device: a, what: 'chair' }), picture);
      storeOfA.live.publish(hereSubject({ site, device: a }), bytes(20));
      await until('presence again', () => heard.length >= 3);
      expect(heard).toHaveLength(3);
    });

    it('lets a new tablet pair, and nothing else', async () => {
      const [storeOfA] = both();
      const [one, other] = [await opened(await clinic.openPairing()), await clinic.openPairing()];
      await opened(other);
      const heard: string[] = [];
      for (const store of [other, storeOfA])
        store.live.subscribe('pair.>', (subject) => heard.push(subject));
      other.live.subscribe('here.>', (subject) => heard.push(subject));
      other.onStored(({ subject }) => heard.push(subject));
      await settle(other);
      expect(await failure(one.put(fact(a)))).not.toBe('ok');
      expect(await failure(one.last('F'))).not.toBe('ok');
      await done(storeOfA.put(fact(a)));
      storeOfA.live.publish(hereSubject({ site: clinic.site, device: a }), bytes(20));
      one.live.publish(pairSubject('x1', 'new'), bytes(20));
      await until('the pairing', () => heard.length >= 1);
      await settle(other);
      expect(heard).toEqual([pairSubject('x1', 'new')]);
      await one.close();
      await other.close();
    });

    it('throws a tablet out that is put out, and does not let it in again', async () => {
      const [, storeOfB] = both();
      const c = newDevice();
      const storeOfC = await opened(await clinic.open(c));
      await done(storeOfC.put(fact(c)));
      const lines: StoreLine[] = [];
      storeOfC.onLine((line) => lines.push(line));
      await clinic.putOut(c);
      await until('thrown out', () => lines.at(-1) === 'refused');
      const code = await failure(storeOfC.put(fact(c)));
      expect(code).toBe('refused');
      const again = await clinic.open(c);
      let line: StoreLine = 'connecting';
      again.onLine((now) => {
        line = now;
      });
      await until('not let in', () => line === 'refused');
      // What it wrote before stays, and the others go on.
      expect(await done(storeOfB.put(fact(b)))).toEqual({ fresh: true });
      await storeOfC.close();
      await again.close();
    });

    it('does nothing after it was closed', async () => {
      const store = await opened(await clinic.open(a));
      const lines: StoreLine[] = [];
      store.onLine((line) => lines.push(line));
      await store.close();
      expect(lines.at(-1)).toBe('closed');
      expect(await failure(store.put(fact(a)))).toBe('closed');
      expect(await failure(store.last('F'))).toBe('closed');
      store.live.publish(hereSubject({ site: clinic.site, device: a }), bytes(20));
      await store.close();
    });

    /** Both a listener that was just added and everything sent before have gone through. */
    async function settle(store: ClinicStore): Promise<void> {
      await store.last('F');
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  });
}
