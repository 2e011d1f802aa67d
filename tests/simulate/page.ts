/** One window of the app on a tablet: the real session over the simulated platform, until it is killed. */
import { forceCloseDatabase } from 'fake-indexeddb';
import type { PlanTables } from '../../src/plan/plan-tables.ts';
import { createAlarmTimer } from '../../src/runtime/device/alarm-timer.ts';
import { realClock } from '../../src/runtime/device/clock.ts';
import { createTimerHost, type TimerHost } from '../../src/runtime/device/timer-host.ts';
import { type Visibility, watchVisibility } from '../../src/runtime/device/visibility.ts';
import { createBounceGuard } from '../../src/runtime/keys/bounce.ts';
import { createPressDoor, type PressDoor } from '../../src/runtime/keys/press-door.ts';
import type { Shipped } from '../../src/runtime/library/library.ts';
import { Session } from '../../src/runtime/session.ts';
import type { SharingWindow } from '../../src/runtime/sharing/sharing-parts.ts';
import { type ToldChannel, toldChannel } from '../../src/runtime/sharing/told-channel.ts';
import { SoundPlayer } from '../../src/runtime/sound/audio.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { AppendBatch, Journal, JournalEntry } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { WriterLock } from '../../src/storage/writer-lock.ts';
import { fakePage } from '../runtime/fake-page.ts';
import { QUIET } from '../runtime/quiet-session.ts';
import { PageFiles } from './files.ts';
import type { Owner } from './loop.ts';
import { Loudspeaker } from './loudspeaker.ts';
import type { Spoil } from './spoil.ts';
import type { Tablet } from './tablet.ts';

/** What the world is told of a page that lives. */
export interface PageNews {
  /** A press goes to the journal. */
  appending(page: Page, batch: AppendBatch): void;
  /** The journal has said that it has these. */
  acknowledged(page: Page, entries: readonly JournalEntry[], batch: AppendBatch): void;
  /** The journal has read these, so it has them. */
  read(page: Page, entries: readonly JournalEntry[]): void;
  /** The journal has taken these over. */
  adopted(page: Page, entries: readonly unknown[]): void;
  drawn(page: Page): void;
}

/** What a page takes part in a clinic with. */
export type SharingOf = (page: Page, told: ToldChannel) => SharingWindow;

const TABLES: PlanTables | null = null;
export const SHIPPED: Shipped = { protocols: [], cases: [], tables: TABLES };

export class Page implements Owner {
  readonly tablet: Tablet;
  readonly name: string;
  readonly connections = new Set<IDBDatabase>();
  readonly session: Session;
  readonly journal: Journal;
  /** The journal as the session has it: the world hears what it answers. */
  readonly watched: Journal;
  /** Of the newest start to write; null before it. */
  epoch: number | null = null;
  readonly door: PressDoor;
  readonly sound: SoundPlayer;
  readonly loudspeaker = new Loudspeaker(() => this.realNowMs());
  readonly #gestures = new EventTarget();
  readonly #life = fakePage();
  readonly #files: PageFiles;
  readonly #bornMonoMs: number;
  isDead = false;
  isReady = false;
  frozenUntilMs = 0;
  /** So many steps to live, when its end is drawn. */
  stepsLeft = Number.POSITIVE_INFINITY;
  #ids = 0;

  constructor(o: {
    readonly tablet: Tablet;
    readonly name: string;
    readonly news: PageNews;
    readonly spoil?: Spoil | undefined;
    readonly sharing?: SharingOf | undefined;
  }) {
    const { tablet, name, news, spoil } = o;
    this.tablet = tablet;
    this.name = name;
    this.#bornMonoMs = tablet.monoMs();
    this.#files = new PageFiles(this);
    const channel = toldChannel(createTabChannel('lutewatch-journal'));
    const made = createIndexedDbJournal({
      name: 'lutewatch',
      home: this.#files,
      channel,
    });
    this.journal = spoil?.journal?.(made, tablet) ?? made;
    this.watched = this.#watched(this.journal, news);
    const timers = createTimerHost({
      page: {
        set: (run, ms) => tablet.loop.after(ms, run, this),
        clear: (id) => tablet.loop.cancel(id),
      },
      spawn: undefined,
    });
    const visibility = watchVisibility(this.#life.page);
    this.sound = new SoundPlayer({
      createContext: () => this.loudspeaker.create(),
      gestures: this.#gestures,
      audioSession: undefined,
      realNowMs: () => this.realNowMs(),
      timers,
      visibility,
    });
    this.session = this.#makeSession({
      timers,
      visibility,
      ...(o.sharing && { sharing: o.sharing(this, channel) }),
    });
    const { session } = this;
    session.store.subscribe((now, before) => {
      if (now.running !== before.running && !this.isDead) news.drawn(this);
    });
    this.door = createPressDoor({
      guard: createBounceGuard({ realNowMs: () => this.realNowMs() }),
      hush: () => undefined,
      refused: () => undefined,
      behind: {
        do: (command) => session.do(command),
        pressNext: () => session.pressNext(),
        standing: () => {
          const { running } = session.store.getState();
          if (!running) return null;
          const cue = running.view.cues.findLast((c) => c.dueInMs <= 0 && !c.acknowledged);
          const canUndo = running.undo !== null && running.undo.untilRealMs > this.realNowMs();
          return { cue: cue?.id ?? null, canUndo };
        },
      },
    });
  }

  get heldUntilMs(): number {
    return Math.max(this.tablet.heldUntilMs, this.frozenUntilMs);
  }

  /** The page's own monotonic clock, as the screens use it. */
  realNowMs(): number {
    return this.tablet.monoMs() - this.#bornMonoMs;
  }

  newId(): string {
    this.#ids += 1;
    return `${this.name}-${this.#ids}`;
  }

  #makeSession(around: {
    readonly timers: TimerHost;
    readonly visibility: Visibility;
    readonly sharing?: SharingWindow;
  }): Session {
    const { tablet, name } = this;
    const { timers, visibility } = around;
    const seat = new WriterLock({
      locks: { request: this.#request.bind(this) },
      channel: new BroadcastChannel('lutewatch-writer'),
      tabId: name,
      onAsked: () => session.yieldSeat(),
      onState: (state) => {
        if (state === 'lost') void session.loseSeat();
      },
    });
    const session: Session = new Session({
      journal: this.watched,
      seat,
      store: createAppStore({
        ...QUIET,
        tablet: {
          sound: { state: 'on' },
          screen: { state: 'held' },
          storage: {
            protection: 'evictable',
            usedBytes: null,
            quotaBytes: null,
            isInstalled: false,
          },
          update: 'none',
          canInstall: false,
          zone: tablet.zone,
        },
      }),
      clock: realClock({
        runId: name,
        readings: { wallMs: () => tablet.wallMs(), monoMs: () => this.realNowMs() },
      }),
      ...around,
      alarm: createAlarmTimer({ timers, visibility }),
      shipped: SHIPPED,
      pictures: null,
      newId: () => this.newId(),
      realNowMs: () => this.realNowMs(),
    });
    return session;
  }

  /** The same journal, which tells the world what it is asked and what it answers. */
  #watched(journal: Journal, news: PageNews): Journal {
    const watched: Journal = Object.create(journal, {
      append: {
        value: async (batch: AppendBatch) => {
          if (!this.isDead) news.appending(this, batch);
          const stored = await journal.append(batch);
          if (stored.ok && !this.isDead) news.acknowledged(this, stored.value.entries, batch);
          return stored;
        },
      },
      startWriting: {
        value: async () => {
          const begun = await journal.startWriting();
          if (begun.ok) this.epoch = begun.value.epoch;
          return begun;
        },
      },
      adopt: {
        value: async (taken: Parameters<Journal['adopt']>[0]) => {
          const adopted = await journal.adopt(taken);
          if (adopted.ok && !this.isDead) news.adopted(this, taken.entries);
          return adopted;
        },
      },
      // What it reads it has, though the page that wrote it may have died before it heard so.
      read: {
        value: async (caseId: string) => {
          const read = await journal.read(caseId);
          if (read.ok && !this.isDead) news.read(this, read.value.entries);
          return read;
        },
      },
    });
    for (const key of [
      'open stopWriting listCases deleteCase adoptTombstone listTombstones',
      'listSetApart heartbeat readHeartbeat ask subscribe onStatus close',
    ].flatMap((names) => names.split(' '))) {
      const method: unknown = Reflect.get(journal, key);
      if (typeof method === 'function')
        Object.defineProperty(watched, key, { value: method.bind(journal) });
    }
    return watched;
  }

  /** The Web Locks API as far as it is used: one lock on a tablet, taken when free or by force. */
  async #request(...args: readonly unknown[]): Promise<unknown> {
    const [, options, callback] = args;
    if (typeof callback !== 'function' || typeof options !== 'object') throw new TypeError('call');
    const { tablet } = this;
    const isStealing = options !== null && 'steal' in options;
    if (this.isDead) return new Promise(() => undefined);
    if (tablet.lock !== null && !isStealing) return callback(null);
    tablet.lock?.rob();
    const robbed = new Promise<never>((_resolve, reject) => {
      const rob = (): void => {
        if (!this.isDead)
          tablet.loop.after(0, () => reject(new DOMException('stolen', 'AbortError')), this);
      };
      tablet.lock = { page: this, rob };
    });
    const mine = tablet.lock;
    try {
      return await Promise.race([callback({ name: 'it', mode: 'exclusive' }), robbed]);
    } finally {
      if (tablet.lock === mine) tablet.lock = null;
    }
  }

  /** What every touch does beside its press. */
  touch(): void {
    this.do(() => this.#gestures.dispatchEvent(new Event('pointerdown')));
  }

  start(): void {
    this.tablet.loop.as(this, () => {
      this.sound.start();
      void this.session.start().then(() => {
        this.isReady = true;
      });
    });
  }

  /** Runs as part of this page. */
  do<T>(act: () => T): T {
    return this.tablet.loop.as(this, act);
  }

  /** Seen or not: a page that comes back is woken. */
  show(isSeen: boolean): void {
    this.do(() => (isSeen ? this.#life.show() : this.#life.hide()));
  }

  resume(): void {
    this.do(() => this.#life.resume());
  }

  /**
   * Ends it as a crash does, between any two steps. What the database has begun is undone, or comes to
   * its end without the page hearing of it.
   */
  kill(o: { readonly commits: boolean }): void {
    if (this.isDead) return;
    this.isDead = true;
    const { tablet } = this;
    this.#files.tear();
    tablet.loop.as(tablet, () => {
      for (const connection of this.connections) {
        if (!o.commits) abortAll(connection);
        connection.close();
      }
    });
    if (tablet.lock?.page === this) tablet.lock = null;
    for (const channel of tablet.channels)
      if (channel.page === this) tablet.channels.delete(channel);
  }

  /** The browser drops the connection while the page lives, as some tablets do. */
  loseConnection(): void {
    for (const connection of this.connections) {
      this.tablet.loop.as(this.tablet, () => {
        forceClose(connection);
      });
    }
    this.connections.clear();
  }
}

/** What the double is given is a connection, whatever its types say. */
const forceClose = forceCloseDatabase as unknown as (connection: IDBDatabase) => void;

interface ConnectionDouble extends IDBDatabase {
  readonly _rawDatabase: {
    readonly transactions: readonly (IDBTransaction & { readonly _state: string })[];
  };
}

/** Undoes every transaction of a connection that is not over. */
function abortAll(connection: IDBDatabase): void {
  const { _rawDatabase: raw } = connection as ConnectionDouble;
  for (const transaction of [...raw.transactions]) {
    if (transaction.db !== connection || transaction._state === 'finished') continue;
    try {
      transaction.abort();
    } catch {
      // It was about to commit, and does.
    }
  }
}
