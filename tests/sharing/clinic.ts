/** A clinic of several tablets in one process: each with a journal and a database of its own, one store. */
import 'fake-indexeddb/auto';
import { present } from '../../src/base/assert.ts';
import {
  asFact,
  documentOf,
  type Fact,
  keepFact,
  listFacts,
} from '../../src/runtime/facts/fact.ts';
import { say } from '../../src/runtime/facts/fact-writer.ts';
import { SETTINGS } from '../../src/runtime/library/library.ts';
import { Engine } from '../../src/runtime/sharing/engine.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { makeTabletKeys, type TabletKeys } from '../../src/storage/signatures.ts';
import { importSecret, makeSecret } from '../../src/sync/clinic-secret.ts';
import { signStatement } from '../../src/sync/members.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import { makeRootSeed, rootKeys } from '../../src/sync/root-key.ts';
import { makeSealingKeys, publicSealingKey } from '../../src/sync/sealed-for.ts';
import type { Membership, SignedStatement } from '../../src/sync/sealed-types.ts';
import { openSharingDatabase, type SharingDatabase } from '../../src/sync/sharing-database.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';
import {
  createMemoryDevice,
  createMemoryJournal,
  type MemoryDevice,
} from '../storage/memory-journal.ts';
import { opening, pressOf, stampAt } from '../storage/sample-case.ts';

const { crypto } = globalThis;
export const SITE = 'site-1';

export interface Clinic {
  readonly site: string;
  readonly hub: MemoryHub;
  readonly root: TabletKeys;
  readonly secret: string;
  /** Opens a tablet's line; the hub's unless a test has another store. */
  readonly open: (device: string) => ClinicStore;
}

export async function clinic(
  open?: (device: string) => ClinicStore,
  site: string = SITE,
): Promise<Clinic> {
  const hub = new MemoryHub();
  return {
    site,
    hub,
    root: await rootKeys(crypto, makeRootSeed(crypto)),
    secret: makeSecret(crypto),
    open: open ?? ((device) => hub.open(device)),
  };
}

let databases = 0;

export interface TabletParts {
  readonly device: MemoryDevice;
  readonly database: () => SharingDatabase;
  readonly keys: TabletKeys;
  readonly membership: Membership;
  readonly statement: SignedStatement;
}

/** A tablet that was let in, before it is switched on. */
export async function paired(of: Clinic, name: string): Promise<TabletParts> {
  const keys = present(await makeTabletKeys(crypto), 'keys');
  const sealing = await makeSealingKeys(crypto);
  const statement = await signStatement(crypto, {
    site: of.site,
    root: of.root,
    statement: {
      type: 'paired',
      device: name,
      name: `Chair ${name}`,
      signingKey: keys.publicKey,
      sealingKey: await publicSealingKey(crypto, sealing),
      user: `user-${name}`,
      atWallMs: 1,
    },
  });
  const membership: Membership = {
    site: of.site,
    device: name,
    name: `Chair ${name}`,
    rootKey: of.root.publicKey,
    secrets: [await importSecret(crypto, { version: 1, secret: of.secret })],
    line: { jwt: '', seed: '' },
    isDemo: true,
    sealing,
  };
  databases += 1;
  const file = `sharing-${name}-${databases}`;
  return {
    device: createMemoryDevice(),
    database: () => openSharingDatabase(file),
    keys,
    membership,
    statement,
  };
}

/** A tablet that is on. */
export class TestTablet {
  readonly parts: TabletParts;
  readonly journal: Journal;
  readonly database: SharingDatabase;
  readonly engine: Engine;
  /** What its screens are told of other tablets. */
  readonly brought: string[] = [];
  readonly name: string;
  epoch = 0;
  nowMs = Date.UTC(2026, 10, 29, 9);
  #running: ReturnType<ConstructorParameters<typeof Engine>[0]['running']> = null;

  constructor(
    of: Clinic,
    parts: TabletParts,
    o: { readonly lag?: (ms: number) => number; readonly version?: string } = {},
  ) {
    this.parts = parts;
    this.name = parts.membership.device;
    this.journal = createMemoryJournal(parts.device);
    const told = createMemoryJournal(parts.device);
    this.database = parts.database();
    const lag = o.lag ?? ((ms) => ms);
    this.engine = new Engine({
      store: of.open(this.name),
      database: this.database,
      journal: this.journal,
      epoch: () => this.epoch,
      crypto,
      version: o.version ?? '1',
      keys: parts.keys,
      membership: parts.membership,
      statements: [parts.statement],
      timers: {
        after: (ms, run) => {
          const timer = setTimeout(run, lag(ms));
          return () => clearTimeout(timer);
        },
      },
      nowWallMs: () => this.nowMs,
      random: () => 0,
      tablet: () => this.name,
      running: () => this.#running,
      onOwn: (listener) => told.subscribe(listener),
      bring: (news) => void this.brought.push(news.type === 'document' ? news.id : news.type),
      onChange: () => undefined,
    });
  }

  set running(running: ReturnType<ConstructorParameters<typeof Engine>[0]['running']>) {
    this.#running = running;
  }

  async on(): Promise<this> {
    const begun = await this.journal.startWriting();
    if (!begun.ok) throw new Error(begun.error.code);
    this.epoch = begun.value.epoch;
    const { epoch } = this;
    const value = { tablet: this.name };
    await this.journal.documents.put({ kind: SETTINGS, id: 'this-tablet', value, epoch });
    await keepFact(this.journal, statementFact(this.parts.statement, this.name), epoch);
    await this.engine.start();
    return this;
  }

  async off(): Promise<void> {
    await this.engine.stop();
    this.database.close();
    await this.journal.close();
  }

  /** The next press of a case; the opening one where it is new. */
  async press(caseId: string, count = 1): Promise<void> {
    const before = await this.journal.read(caseId);
    if (!before.ok) throw new Error(before.error.code);
    const { length } = before.value.entries;
    const recorded = length === 0 ? [patientOpening(caseId)] : pressOf(count, length);
    const done = await this.journal.append({ caseId, epoch: this.epoch, recorded });
    if (!done.ok) throw new Error(done.error.code);
  }

  async say(
    kind: Fact['kind'],
    item: string,
    ...said: readonly unknown[]
  ): Promise<readonly Fact[]> {
    const { journal } = this;
    const own = {
      journal,
      epoch: () => this.epoch,
      tablet: () => this.name,
      nowWallMs: () => this.nowMs,
    };
    const done = await say(own, { kind, item, said, by: null });
    if (!done.ok) throw new Error(done.error.code);
    return done.value;
  }

  async entries(caseId: string): Promise<readonly string[]> {
    const read = await this.journal.read(caseId);
    if (!read.ok) throw new Error(read.error.code);
    return read.value.entries.map(({ hash }) => hash);
  }

  async facts(kind: Fact['kind']): Promise<readonly string[]> {
    const listed = await listFacts(this.journal, kind);
    if (!listed.ok) throw new Error(listed.error.code);
    return listed.value.facts.map(({ id }) => id).toSorted();
  }
}

export const statementFact = (signed: SignedStatement, tablet: string): Fact =>
  asFact({
    kind: 'tablet',
    item: signed.statement.device,
    said: signed,
    after: [],
    tablet,
    by: null,
    atWallMs: 1,
  });

export function patientOpening(caseId: string) {
  const first = opening(caseId);
  if (first.event.type !== 'case-opened') throw new Error('an opening');
  return { ...first, event: { ...first.event, mode: 'patient' as const } };
}

export async function until(
  what: () => boolean | Promise<boolean>,
  o: string | { readonly name: string; readonly turns: number } = 'it',
): Promise<void> {
  // A tablet is heard of once it has heard of this one: twice two seconds, on a machine that is not busy.
  const { name, turns } = typeof o === 'string' ? { name: o, turns: 6000 } : o;
  for (let turn = 0; turn < turns; turn += 1) {
    if (await what()) return;
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
  throw new Error(`waited in vain for ${name}`);
}

/** Waits until every tablet has given what it has and read what there is. */
export async function settled(hub: MemoryHub, tablets: readonly TestTablet[]): Promise<void> {
  const isUp = async (tablet: TestTablet): Promise<boolean> => {
    if (!tablet.engine.isShared) return false;
    const cursors = await tablet.database.all('cursors');
    return (['J', 'F', 'K'] as const).every((stream) => {
      const last = hub.messages(stream).at(-1)?.seq ?? 0;
      const at = cursors.find((each) => each.stream === stream)?.marks[0]?.seq ?? 0;
      return at >= last;
    });
  };
  const stored = (): string =>
    (['J', 'F', 'K'] as const).map((stream) => hub.messages(stream).at(-1)?.subject).join();
  const allUp = async (): Promise<boolean> => {
    for (const tablet of tablets) if (!(await isUp(tablet))) return false;
    return true;
  };
  // What one hands over while another is looked at is new to that one.
  await until(async () => {
    const before = stored();
    return (await allUp()) && (await allUp()) && stored() === before;
  }, 'all to be shared');
}

export { documentOf, stampAt };
