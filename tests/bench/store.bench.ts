/**
 * The clinic's store on a real server of this machine, as tablets in Node reach it: entries of 600 bytes kept
 * per second, how long until another tablet has seen one, catching up, and pictures sent live.
 */
import { randomBytes, randomUUID } from 'node:crypto';
import type { Bytes, ClinicStore } from '../../src/sync/store-types.ts';
import { liveSubject, subjectOf } from '../../src/sync/subjects.ts';
import { startClinic, type TestClinic, testServer } from '../tools/nats-server.ts';

const ENTRIES = 4000;
const AT_ONCE = 64;
const ENTRY_BYTES = 600;
const PICTURES = 200;
const PICTURE_BYTES = 2000;
const PICTURE_EVERY_MS = 50;

const bytes = (length: number): Bytes => new Uint8Array(randomBytes(length));
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

function quantile(times: readonly number[], share: number): number {
  const sorted = times.toSorted((x, y) => x - y);
  const at = Math.min(sorted.length - 1, Math.floor(sorted.length * share));
  return Number((sorted[at] ?? Number.NaN).toFixed(2));
}

function untilOpen(store: ClinicStore): Promise<void> {
  return new Promise((resolve) => {
    store.onLine((line) => {
      if (line === 'open') resolve();
    });
  });
}

interface Tablet {
  readonly device: string;
  readonly store: ClinicStore;
}

async function tablet(clinic: TestClinic): Promise<Tablet> {
  const device = randomUUID();
  const { login } = await clinic.tablet(device);
  const store = clinic.open(login, device);
  await untilOpen(store);
  return { device, store };
}

/** Runs `work` for 0, 1, 2 …, so many at once. Returns ms. */
async function inTurns(
  count: number,
  atOnce: number,
  work: (at: number) => Promise<void>,
): Promise<number> {
  const startedAt = performance.now();
  let next = 0;
  const turn = async (): Promise<void> => {
    while (next < count) {
      const at = next;
      next += 1;
      await work(at);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, turn));
  return performance.now() - startedAt;
}

/** Keeps entries, so many at once; another tablet listens. */
async function keeping(
  o: { readonly clinic: TestClinic; readonly a: Tablet; readonly b: Tablet },
  how: { readonly caseId: string; readonly count: number; readonly atOnce: number },
) {
  const sentAt = new Map<string, number>();
  const answered: number[] = [];
  const seen: number[] = [];
  const stop = o.b.store.onStored(({ subject }) => {
    seen.push(performance.now() - (sentAt.get(subject) ?? Number.NaN));
  });
  await pause(100);
  const messages = Array.from({ length: how.count }, (_, number) => {
    const data = bytes(ENTRY_BYTES);
    const place = { stream: 'J', site: o.clinic.site, device: o.a.device } as const;
    return { data, subject: subjectOf({ ...place, item: how.caseId, number }, data) };
  });
  const tookMs = await inTurns(how.count, how.atOnce, async (at) => {
    const message = messages[at];
    if (message === undefined) throw new Error('no message');
    const startedAt = performance.now();
    sentAt.set(message.subject, startedAt);
    const result = await o.a.store.put({ stream: 'J', ...message });
    if (!result.ok) throw new Error(JSON.stringify(result.error));
    answered.push(performance.now() - startedAt);
  });
  await pause(500);
  stop();
  return {
    what: `${how.count} entries kept, ${how.atOnce} at once`,
    perSecond: Math.round((how.count * 1000) / tookMs),
    answeredP50Ms: quantile(answered, 0.5),
    answeredP99Ms: quantile(answered, 0.99),
    seenElsewhere: seen.length,
    seenP50Ms: quantile(seen, 0.5),
    seenP99Ms: quantile(seen, 0.99),
  };
}

async function catchingUp({ store }: Tablet, count: number) {
  let read = 0;
  const tookMs = await inTurns(count, AT_ONCE, async (at) => {
    const result = await store.get({ stream: 'J', seq: at + 1 });
    if (!result.ok || result.value === null) throw new Error('a message is missing');
    read += 1;
  });
  return { what: 'catching up, 64 at once', read, perSecond: Math.round((read * 1000) / tookMs) };
}

async function pictures(clinic: TestClinic, a: Tablet, b: Tablet) {
  const sentAt: number[] = [];
  const seen: number[] = [];
  const stop = b.store.live.subscribe('live.>', (_, data) => {
    const at = new DataView(data.buffer).getUint32(0);
    seen.push(performance.now() - (sentAt[at] ?? Number.NaN));
  });
  await pause(100);
  for (let at = 0; at < PICTURES; at += 1) {
    const picture = bytes(PICTURE_BYTES);
    new DataView(picture.buffer).setUint32(0, at);
    sentAt.push(performance.now());
    a.store.live.publish(
      liveSubject({ site: clinic.site, device: a.device, what: 'chair' }),
      picture,
    );
    await pause(PICTURE_EVERY_MS);
  }
  await pause(200);
  stop();
  return {
    what: `${PICTURES} pictures of ${PICTURE_BYTES} bytes, 20 a second`,
    seen: seen.length,
    p50Ms: quantile(seen, 0.5),
    p99Ms: quantile(seen, 0.99),
    maxMs: quantile(seen, 1),
  };
}

export default async function bench() {
  const server = await testServer();
  if (server === null) return { skipped: 'no server' };
  const clinic = await startClinic(server);
  const [a, b] = [await tablet(clinic), await tablet(clinic)];
  try {
    const o = { clinic, a, b };
    const lines = [
      await keeping(o, { caseId: 'c1', count: ENTRIES, atOnce: AT_ONCE }),
      await keeping(o, { caseId: 'c2', count: 500, atOnce: 1 }),
      await catchingUp(b, ENTRIES + 500),
      await pictures(clinic, a, b),
    ];
    return lines.map((line) => ({ server: server.version, ...line }));
  } finally {
    await a.store.close();
    await b.store.close();
    await clinic.end();
  }
}
