/**
 * Tablets that share over a real server of this machine: whole cases sealed and handed over, a new tablet that
 * catches up, and how long a press takes until it stands in the journal of another tablet. Journals and databases are in memory.
 */
import { present } from '../../src/base/assert.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import { clinic, paired, TestTablet, until } from '../sharing/clinic.ts';
import { pressOf } from '../storage/sample-case.ts';
import { startClinic, type TestClinic, testServer } from '../tools/nats-server.ts';

const CASES = Number(process.env['LUTEWATCH_READINGS'] ?? 1000);
const PRESSES = 75;
const ENTRIES_OF_PRESS = 4;
const ENTRIES = 1 + PRESSES * ENTRIES_OF_PRESS;
const LIVE_PRESSES = 200;

async function fill(tablet: TestTablet): Promise<void> {
  const { journal, epoch } = tablet;
  for (let n = 0; n < CASES; n += 1) {
    const caseId = `case-${n}`;
    await tablet.press(caseId);
    for (let from = 1; from < ENTRIES; from += ENTRIES_OF_PRESS) {
      await journal.append({ caseId, epoch, recorded: pressOf(ENTRIES_OF_PRESS, from) });
    }
  }
}

const rounded = (ms: number): number => Number(ms.toFixed(1));

async function seenElsewhere(a: TestTablet, b: TestTablet) {
  const took: number[] = [];
  for (let n = 0; n < LIVE_PRESSES; n += 1) {
    const startedAt = performance.now();
    await a.press(`live-${n % 10}`);
    const length = (await a.entries(`live-${n % 10}`)).length;
    for (;;) {
      if ((await b.entries(`live-${n % 10}`)).length >= length) break;
      await new Promise((resolve) => setImmediate(resolve));
    }
    took.push(performance.now() - startedAt);
  }
  const sorted = took.toSorted((x, y) => x - y);
  const at = (share: number) => rounded(sorted[Math.floor(sorted.length * share)] ?? Number.NaN);
  return { what: 'a press in the journal of another tablet', p50Ms: at(0.5), p99Ms: at(0.99) };
}

async function measure(tabletOf: (name: string) => Promise<TestTablet>) {
  const a = await tabletOf('a');
  const startedAt = performance.now();
  await fill(a);
  await until(() => a.engine.isShared, { name: 'all to be shared', turns: 1_000_000 });
  const sharedMs = performance.now() - startedAt;
  const b = await tabletOf('b');
  const last = `case-${CASES - 1}`;
  const caughtAt = performance.now();
  const isThere = async () => b.engine.isShared && (await b.entries(last)).length === ENTRIES;
  await until(isThere, { name: 'the last case', turns: 1_000_000 });
  const caughtMs = performance.now() - caughtAt;
  const entries = CASES * ENTRIES;
  const live = await seenElsewhere(a, b);
  await Promise.all([a.off(), b.off()]);
  return [
    {
      what: `${CASES} cases of ${ENTRIES} entries written, sealed and handed over`,
      ms: Math.round(sharedMs),
      entriesPerSecond: Math.round((entries * 1000) / sharedMs),
    },
    {
      what: `a new tablet catches up with ${CASES} cases of ${ENTRIES} entries`,
      ms: Math.round(caughtMs),
      entriesPerSecond: Math.round((entries * 1000) / caughtMs),
    },
    live,
  ];
}

export default async function sharing() {
  const server = await testServer();
  if (server === null) return { what: 'no server to measure' };
  const on: TestClinic = await startClinic(server);
  const logins = new Map<string, StoreLogin>();
  const of = await clinic(
    (device) => on.open(present(logins.get(device), 'a login'), device),
    on.site,
  );
  const tabletOf = async (name: string): Promise<TestTablet> => {
    logins.set(name, (await on.tablet(name)).login);
    return new TestTablet(of, await paired(of, name)).on();
  };
  try {
    return await measure(tabletOf);
  } finally {
    await on.end();
  }
}
