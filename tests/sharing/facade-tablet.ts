/** Tablets with all of sharing but the network: the store is in memory, and so is the server's door. */
import 'fake-indexeddb/auto';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { realClock } from '../../src/runtime/device/clock.ts';
import type { Fact } from '../../src/runtime/facts/fact.ts';
import { say } from '../../src/runtime/facts/fact-writer.ts';
import { SETTINGS } from '../../src/runtime/library/library.ts';
import { ClinicSharing } from '../../src/runtime/sharing/clinic-sharing.ts';
import type { StorePlatform } from '../../src/runtime/sharing/store-platform.ts';
import { toldChannel } from '../../src/runtime/sharing/told-channel.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, JournalNews } from '../../src/storage/journal-types.ts';
import { makeTabletKeys } from '../../src/storage/signatures.ts';
import type { TabChannel } from '../../src/storage/tab-channel.ts';
import { newServerSeeds } from '../../src/sync/accounts.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import { newPairCode, pairLine } from '../../src/sync/pair-code.ts';
import { LeadPairing } from '../../src/sync/pairing.ts';
import type { ServerSeeds } from '../../src/sync/server-keys.ts';
import { QUIET } from '../runtime/quiet-session.ts';
import { MemoryHome } from '../storage/memory-home.ts';
import { pressOf } from '../storage/sample-case.ts';
import { patientOpening } from './clinic.ts';
import { memoryPlatform } from './memory-platform.ts';
import { pageTimers } from './real-timers.ts';

const { crypto } = globalThis;
export const SITE = 'site-7';

export interface TestServer {
  readonly hub: MemoryHub;
  readonly seeds: ServerSeeds;
  readonly platform: StorePlatform;
  /** The first code, and the digits that the terminal shows; it says yes by itself. */
  firstCode(): Promise<{ readonly code: string; digits(): string | null }>;
}

export function testServer(): TestServer {
  const hub = new MemoryHub();
  const seeds = newServerSeeds();
  const platform = memoryPlatform({ site: SITE, hub, seeds });
  return {
    hub,
    seeds,
    platform,
    async firstCode() {
      const code = await newPairCode(crypto);
      const line = pairLine(hub.open(null).live, { id: code.id, side: 'lead' });
      const timers = { later: pageTimers().after };
      const end = new LeadPairing(
        { crypto, line, timers, code, nowWallMs: Date.now() },
        {
          accept: async ({ device }) => ({
            type: 'founding',
            site: SITE,
            device,
            seeds,
            isDemo: true,
          }),
        },
      );
      end.onState(({ step }) => {
        if (step === 'compare') void end.confirm();
      });
      return { code: code.text, digits: () => end.state.digits };
    },
  };
}

/** The windows of one tablet hear one another; there is one. */
function quietChannel(): TabChannel {
  const listeners = new Set<(news: JournalNews) => void>();
  return {
    tell: () => undefined,
    hear: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: () => undefined,
  };
}

let tablets = 0;

export class FacadeTablet {
  readonly sharing: ClinicSharing;
  readonly journal: Journal;
  readonly store = createAppStore({
    ...QUIET,
    phase: 'ready',
    tablet: {
      sound: { state: 'on' },
      screen: { state: 'held' },
      storage: { protection: 'evictable', usedBytes: null, quotaBytes: null, isInstalled: false },
      update: 'none',
      canInstall: false,
      zone: 'UTC',
    },
  });
  readonly id: string;
  readonly heard: JournalNews[] = [];
  takesPart = false;
  epoch: number | null = null;
  readonly #facts;

  constructor(server: TestServer, id?: string) {
    tablets += 1;
    this.id = id ?? `tablet-${tablets}`;
    const channel = toldChannel(quietChannel());
    const journal = createIndexedDbJournal({
      name: `journal-${tablets}`,
      home: new MemoryHome(),
      channel,
    });
    this.journal = journal;
    journal.subscribe((news) => void this.heard.push(news));
    const clock = realClock({ runId: `run-${tablets}` });
    const epoch = (): number | null => this.epoch;
    const facts = {
      journal,
      epoch,
      tablet: () => this.id,
      nowWallMs: () => clock.stamp().wallMs,
    };
    this.#facts = facts;
    this.store.setState({ settings: { ...DEFAULT_SETTINGS, tablet: this.id } });
    const keys = makeTabletKeys(crypto);
    this.sharing = new ClinicSharing({
      journal,
      store: this.store,
      clock,
      timers: pageTimers(),
      pictures: null,
      newId: () => crypto.randomUUID(),
      epoch,
      facts,
      onDesk: () => undefined,
      told: channel,
      crypto,
      version: '1',
      origin: 'https://clinic.example',
      mark: {
        isSet: () => this.takesPart,
        set: (takesPart) => {
          this.takesPart = takesPart;
        },
      },
      platform: server.platform,
      databaseName: `facade-${tablets}`,
      keys: () => keys,
    });
  }

  async on(): Promise<this> {
    const begun = await this.journal.startWriting();
    if (!begun.ok) throw new Error(begun.error.code);
    this.epoch = begun.value.epoch;
    const value = { tablet: this.id };
    await this.journal.documents.put({
      kind: SETTINGS,
      id: 'this-tablet',
      value,
      epoch: this.epoch,
    });
    await this.sharing.begin();
    return this;
  }

  async off(): Promise<void> {
    this.epoch = null;
    await this.sharing.turned();
    await this.journal.close();
  }

  get state() {
    return this.sharing.state.getState();
  }

  async press(caseId: string): Promise<void> {
    const before = await this.journal.read(caseId);
    const length = before.ok ? before.value.entries.length : 0;
    const recorded = length === 0 ? [patientOpening(caseId)] : pressOf(1, length);
    const done = await this.journal.append({ caseId, epoch: this.epoch ?? 0, recorded });
    if (!done.ok) throw new Error(done.error.code);
  }

  async entries(caseId: string): Promise<number> {
    const read = await this.journal.read(caseId);
    return read.ok ? read.value.entries.length : -1;
  }

  say(kind: Fact['kind'], item: string, ...said: readonly unknown[]) {
    return say(this.#facts, { kind, item, said, by: null });
  }
}
