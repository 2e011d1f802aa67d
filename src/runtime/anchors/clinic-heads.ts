/** Heads between the tablets of a clinic: those of the case that runs here go out, those of others are kept. */
import type { Journal, JournalNews } from '../../storage/journal-types.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import type { NewMessage } from '../../sync/outbox.ts';
import { sealFact } from '../../sync/seal.ts';
import type { Members, Sealer } from '../../sync/sealed-types.ts';
import type { SharingDatabase } from '../../sync/sharing-database.ts';
import { storeOnlyRows } from '../../sync/store-only-rows.ts';
import { partsOf } from '../../sync/subjects.ts';
import type { RunningCase } from '../app-state.ts';
import { documentOf } from '../facts/fact.ts';
import type { BrokenChain } from './broken-chains.ts';
import { type CameHead, HeardHeads } from './heard-heads.ts';
import { RunningHeads } from './running-heads.ts';

export interface ClinicHeadsParts {
  readonly journal: Journal;
  readonly database: SharingDatabase;
  readonly epoch: () => number | null;
  readonly crypto: Crypto;
  readonly keys: TabletKeys;
  readonly sealer: () => Sealer;
  readonly members: () => Members;
  readonly tablet: () => string;
  readonly running: () => RunningCase | null;
  readonly isShared: () => boolean;
  readonly send: (messages: readonly NewMessage[]) => Promise<void>;
  readonly timers: { after(delayMs: number, callback: () => void): () => void };
  readonly nowWallMs: () => number;
  readonly onChange: () => void;
}

/** Entries and last hash of cases that lie on the store alone: of one, or of all. */
async function endsAtStore(database: SharingDatabase, caseId?: string) {
  const ends = new Map<string, { readonly entries: number; readonly head: string }>();
  const one = caseId === undefined ? undefined : await database.get('storeOnly', caseId);
  if (one !== undefined) ends.set(one.caseId, one.summary);
  if (caseId !== undefined) return ends;
  for await (const row of storeOnlyRows(database)) {
    const { entries, head } = row.summary;
    ends.set(row.caseId, { entries, head });
  }
  return ends;
}

export class ClinicHeads {
  readonly #heard: HeardHeads;
  readonly #own: RunningHeads;
  #broken: readonly BrokenChain[] = [];

  constructor(parts: ClinicHeadsParts) {
    const { database, sealer, send } = parts;
    this.#heard = new HeardHeads({
      ...parts,
      device: () => sealer().membership.device,
      isWaiting: async (caseId) => {
        const waiting = await database.all('waiting');
        return waiting.some(({ subject }) => partsOf(subject).item === caseId);
      },
      atStore: (caseId) => endsAtStore(database, caseId),
      onChange: (broken) => {
        this.#broken = broken;
        parts.onChange();
      },
    });
    this.#own = new RunningHeads({
      ...parts,
      nowMs: () => performance.now(),
      send: async (fact) => {
        const sealed = await sealFact(sealer(), documentOf(fact));
        if (sealed.ok) await send([{ stream: 'F', ...sealed.value }]);
      },
      onLeft: (fact) => void this.#heard.left(fact),
    });
  }

  /** Cases that do not stand to a head that a tablet signed of them. */
  get broken(): readonly BrokenChain[] {
    return this.#broken;
  }

  /** Entries of the highest head that is known here, by case, of the cases heard of last. */
  get known(): Readonly<Record<string, number>> {
    return this.#heard.known;
  }

  start(): Promise<void> {
    return this.#heard.start();
  }

  stop(): void {
    this.#own.stop();
  }

  /** Heads that came from other tablets. */
  hear(came: readonly CameHead[]): Promise<void> {
    return came.length === 0 ? Promise.resolve() : this.#heard.hear(came);
  }

  /** Something was stored in this window. */
  stored(news: JournalNews): void {
    this.#own.hear(news);
  }

  /** Something came from other tablets and was stored. */
  brought(news: JournalNews): void {
    if (news.type === 'entries' || news.type === 'case-deleted') {
      void this.#heard.changed(news.caseId);
    }
  }

  wasRead(): void {
    void this.#heard.wasRead();
  }

  knownBy(device: string, heads: Readonly<Record<string, number>>): void {
    void this.#heard.knownBy(device, heads);
  }
}
