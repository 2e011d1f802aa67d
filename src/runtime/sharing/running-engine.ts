/** The engine in a window: with its line to the store, the pictures of running cases, and what screens are told. */
import { isSameJson } from '../../base/json.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import { LiveHub } from '../../sync/live-channel.ts';
import { liveSealing } from '../../sync/live-sealing.ts';
import type { SharingDatabase } from '../../sync/sharing-database.ts';
import { LAST_BACKUP } from '../cases/last-backup.ts';
import { factDocument } from '../facts/fact.ts';
import { type KeptBox, readBox } from './box-facts.ts';
import { Bringer } from './bringer.ts';
import { ConflictCount } from './conflict-count.ts';
import { Engine } from './engine.ts';
import {
  type KeptMembership,
  keepSharedTimes,
  readSharedTimes,
  type SharedTimes,
} from './kept-membership.ts';
import { sayMissing } from './say-statements.ts';
import type { SharingParts } from './sharing-parts.ts';
import type { SharingState } from './sharing-state.ts';
import { restingState, stateOf } from './state-of.ts';
import type { StorePlatform } from './store-platform.ts';

/** How soon screens are told of what is not urgent, ms: a press that is shared at once changes nothing there. */
const TOLD_AFTER_MS = 1000;
/** Shared again is told where it was told so long ago, ms. */
const SHARED_STEP_MS = 30_000;

/** After statements could not be kept, ms. */
const SAID_AGAIN_MS = 5000;

const DESK_KINDS: ReadonlySet<string> = new Set(
  (['protocol', 'lead-log', 'sheet'] as const).map(factDocument),
);

/** A backup keeps the box as paper does. */
const BOX_KINDS: ReadonlySet<string> = new Set([factDocument('clinic'), LAST_BACKUP]);

interface RunningParts extends Omit<SharingParts, 'keys' | 'platform'> {
  readonly platform: StorePlatform;
  readonly database: SharingDatabase;
  readonly keys: TabletKeys;
  readonly kept: KeptMembership;
  readonly onState: (state: SharingState) => void;
}

export class RunningEngine {
  readonly #parts: RunningParts;
  #engine: Engine | null = null;
  #leavePictures: () => void = () => undefined;
  #stopHearing: () => void = () => undefined;
  #times: SharedTimes = { sharedAtWallMs: null, behindSinceWallMs: null };
  #box: KeptBox | null = null;
  readonly #conflicts: ConflictCount;
  /** Since when not everything is shared, as it is known before screens are told. */
  #behindSinceWallMs: number | null = null;
  #callOff: (() => void) | null = null;
  /** Since when others can be heard. */
  #lookingSinceWallMs: number | null = null;
  #wasOpen = false;
  #isStopped = false;
  /** What is known of tablets was looked at once everything was read: it is in the store, or owed to it. */
  #isVouched = false;

  constructor(parts: RunningParts) {
    this.#parts = parts;
    this.#conflicts = new ConflictCount({
      ...parts,
      isBusy: () => parts.store.getState().running?.log.state.closed === null,
      onCount: () => this.#changed(false),
    });
  }

  /** Null in a window that does not write: another one shares. */
  get engine(): Engine | null {
    return this.#engine;
  }

  /** Of the clinic that this tablet belongs to. */
  get site(): string {
    return this.#parts.kept.membership.site;
  }

  get #nowMs(): number {
    return this.#parts.clock.stamp().wallMs;
  }

  async start(): Promise<void> {
    const { database, journal, kept, epoch, platform, onState } = this.#parts;
    const { membership } = kept;
    this.#times = await readSharedTimes(database);
    const lookingSinceWallMs = epoch() === null ? null : this.#nowMs;
    this.#lookingSinceWallMs = lookingSinceWallMs;
    onState(restingState(membership, { ...this.#times, lookingSinceWallMs }));
    if (epoch() === null) return;
    this.#box = await readBox(journal, this.site);
    const login = membership.line;
    const store = await platform.open({ login, name: membership.device });
    const bringer = new Bringer({
      bring: this.#parts.told.bring,
      shown: () => this.#parts.store.getState().running?.caseId ?? null,
      isCatchingUp: () => (this.#engine?.state.catchUp ?? null) !== null,
      timers: this.#parts.timers,
      onTold: (kinds) => this.#told(kinds),
    });
    this.#engine = new Engine({
      ...this.#parts,
      store,
      membership,
      statements: kept.statements,
      nowWallMs: () => this.#nowMs,
      random: Math.random,
      tablet: () => this.#parts.store.getState().settings.tablet,
      running: () => this.#parts.store.getState().running,
      onOwn: this.#parts.told.onOwn,
      bring: (news) => bringer.hear(news),
      onChange: ({ isUrgent }) => this.#changed(isUrgent),
    });
    this.#stopHearing = this.#parts.told.onOwn((news) => {
      if (news.type !== 'document') return;
      if (BOX_KINDS.has(news.kind)) void this.#boxChanged();
      this.#conflicts.heard([news.kind]);
    });
    await this.#engine.start();
    this.#joinPictures(this.#engine);
    this.#changed(true);
    this.#conflicts.soon();
  }

  async stop(): Promise<void> {
    this.#isStopped = true;
    this.#callOff?.();
    this.#conflicts.stop();
    this.#leavePictures();
    this.#stopHearing();
    await this.#engine?.stop();
  }

  /** Who of the clinic looks on is shown what runs here. */
  #joinPictures(engine: Engine): void {
    const { pictures, newId, crypto } = this.#parts;
    const { site, device } = engine.membership;
    const seal = liveSealing({
      sealer: () => engine.sealer,
      opener: () => ({
        crypto,
        site,
        secrets: engine.membership.secrets,
        members: engine.members,
      }),
      nextCount: () => engine.nextCount(),
    });
    const nowMs = (): number => this.#parts.clock.stamp().monoMs;
    const { live } = engine.store;
    const hub = new LiveHub({ live, site, device, seal, nowMs, newWord: newId });
    this.#leavePictures = pictures?.join(hub) ?? this.#leavePictures;
  }

  #told(kinds: ReadonlySet<string>): void {
    if ([...DESK_KINDS].some((kind) => kinds.has(kind))) this.#parts.onDesk();
    if (kinds.has(factDocument('clinic'))) void this.#boxChanged();
    this.#conflicts.heard(kinds);
  }

  /** The lead's box was sealed anew, here or elsewhere. */
  async #boxChanged(): Promise<void> {
    this.#box = await readBox(this.#parts.journal, this.site);
    this.#changed(false);
  }

  #changed(isUrgent: boolean): void {
    const engine = this.#engine;
    if (engine === null || this.#isStopped) return;
    if (engine.state.isRead && !this.#isVouched) void this.#vouch(engine);
    const isOpen = engine.state.line === 'open';
    if (isOpen && !this.#wasOpen) this.#lookingSinceWallMs = this.#nowMs;
    this.#wasOpen = isOpen;
    if (engine.isShared) this.#behindSinceWallMs = null;
    else this.#behindSinceWallMs ??= this.#nowMs;
    if (isUrgent) {
      this.#callOff?.();
      this.#callOff = null;
      this.#tell(engine);
      return;
    }
    this.#callOff ??= this.#parts.timers.after(TOLD_AFTER_MS, () => {
      this.#callOff = null;
      this.#tell(engine);
    });
  }

  async #vouch(engine: Engine): Promise<void> {
    this.#isVouched = true;
    const { statements, membership } = engine;
    const { facts, timers } = this.#parts;
    const said = await sayMissing(facts, { statements, device: membership.device });
    if (said.ok || this.#isStopped) return;
    timers.after(SAID_AGAIN_MS, () => {
      this.#isVouched = false;
      this.#changed(false);
    });
  }

  #tell(engine: Engine): void {
    if (this.#isStopped) return;
    const before = this.#times;
    this.#times = this.#timesNow(engine);
    if (!isSameJson(this.#times, before)) {
      this.#parts.database.change([keepSharedTimes(this.#times)]).catch(() => undefined);
    }
    const conflicts = this.#conflicts.count;
    const lookingSinceWallMs = this.#lookingSinceWallMs;
    const told = { times: this.#times, box: this.#box, conflicts, problem: null };
    this.#parts.onState(stateOf(engine, { ...told, lookingSinceWallMs }));
  }

  #timesNow(engine: Engine): SharedTimes {
    const { sharedAtWallMs, behindSinceWallMs } = this.#times;
    if (!engine.isShared) {
      const since = behindSinceWallMs ?? this.#behindSinceWallMs ?? this.#nowMs;
      return { sharedAtWallMs, behindSinceWallMs: since };
    }
    const isOld = sharedAtWallMs === null || this.#nowMs - sharedAtWallMs >= SHARED_STEP_MS;
    const isTold = behindSinceWallMs === null && !isOld;
    return {
      sharedAtWallMs: isTold ? sharedAtWallMs : this.#nowMs,
      behindSinceWallMs: null,
    };
  }
}
