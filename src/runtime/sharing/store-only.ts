/**
 * Cases of other tablets that were closed long ago: this tablet keeps their line and where their entries lie, and
 * the entries stay on the store until somebody opens the case. What a tablet wrote itself it never gives away: its
 * own journal is the record. Whatever is not quite plain (an open case, two ends, a tablet that was put out,
 * something that this tablet has of it already) is kept here whole, as any case is.
 */
import { MS_PER_DAY } from '../../base/units.ts';
import { replay } from '../../engine/log.ts';
import { summarise } from '../../storage/case-summary.ts';
import type { CaseSummary, Journal, JournalEntry } from '../../storage/journal-types.ts';
import type { Members, Membership } from '../../sync/sealed-types.ts';
import type {
  Change,
  HeldEntries,
  SharingDatabase,
  StoreOnlyCase,
} from '../../sync/sharing-database.ts';
import { BEGUN_AT_STORE } from '../cases/begun-at-store.ts';
import { caseFacts } from '../cases/cases-list-facts.ts';
import { FACTS_VERSION, parseCaseFacts } from '../cases/parse-case-facts.ts';
import { readSecondEnds } from '../cases/second-ends.ts';
import type { Piece } from './join-entries.ts';

/**
 * How long after its last entry a closed case of another tablet is still kept here whole, days. A design choice of
 * this project: who comes back after a year is looked up before the visit, not in its midst.
 */
export const KEPT_DAYS = 365;

export interface StoreOnlyParts {
  readonly journal: Journal;
  readonly database: SharingDatabase;
  readonly membership: () => Membership;
  readonly members: () => Members;
  /** Under which id this tablet writes cases. */
  readonly tablet: () => string;
  readonly nowWallMs: () => number;
  /** Lines came, changed or went. */
  readonly onStoreOnly: () => void;
}

/** `arriving`: not to be told before everything of it was read. */
export type Standing =
  | { readonly stays: 'here' | 'arriving' }
  | { readonly stays: 'store'; readonly row: StoreOnlyCase };

const HERE: Standing = { stays: 'here' };

export class StoreOnly {
  readonly #parts: StoreOnlyParts;

  constructor(parts: StoreOnlyParts) {
    this.#parts = parts;
  }

  row(caseId: string): Promise<StoreOnlyCase | undefined> {
    return this.#parts.database.get('storeOnly', caseId);
  }

  /**
   * What is to be noted where all that came of a case is known to lie on the store: an older disk may have it at
   * other places. Null where something of it is new, or its line is of another version of the app.
   */
  seenAgain(row: StoreOnlyCase, came: readonly HeldEntries[]): readonly Change[] | null {
    if (came.length === 0 || parseCaseFacts(row.facts) === null) return null;
    const seqs = new Map(came.map(({ subject, seq }) => [subject, seq]));
    const isKnown = new Set(row.places.map(({ subject }) => subject));
    if (came.some(({ subject }) => !isKnown.has(subject))) return null;
    const places = row.places.map((place) => ({
      ...place,
      seq: seqs.get(place.subject) ?? place.seq,
    }));
    const isMoved = places.some(({ seq }, i) => seq !== row.places[i]?.seq);
    return isMoved ? [{ room: 'storeOnly', put: { ...row, places } }] : [];
  }

  /** Those of which the journal has something all the same. */
  async alsoHere(): Promise<readonly string[]> {
    const { database, journal } = this.#parts;
    const ids = new Set(await database.keys('storeOnly'));
    if (ids.size === 0) return [];
    const listed = await journal.listCases();
    if (!listed.ok) throw new Error(listed.error.code);
    return listed.value.flatMap(({ caseId }) => (ids.has(caseId) ? [caseId] : []));
  }

  /** Where a case is kept of which this tablet's journal has nothing. */
  async standing(chain: readonly JournalEntry[], pieces: readonly Piece[]): Promise<Standing> {
    const [first] = chain;
    if (first === undefined || !this.#isOld(first) || !this.#isOfOthers(chain, pieces)) return HERE;
    const summary = summarise(null, chain);
    if (summary.mode !== 'patient' || !this.#isOfMembers(pieces)) return HERE;
    if (summary.closedByPress === null || !this.#isOld({ stamp: summary.lastStamp })) {
      return { stays: 'arriving' };
    }
    if (await this.#isKnownHere(summary.caseId)) return HERE;
    const facts = factsOf(summary, chain);
    const places = pieces.flatMap(({ seq, subject }) =>
      seq === undefined ? [] : { seq, subject },
    );
    if (facts === null || places.length < pieces.length) return HERE;
    const { caseId } = summary;
    return { stays: 'store', row: { caseId, summary, facts, places } };
  }

  #isOld({ stamp }: Pick<JournalEntry, 'stamp'>): boolean {
    return this.#parts.nowWallMs() - stamp.wallMs > KEPT_DAYS * MS_PER_DAY;
  }

  #isOfOthers(chain: readonly JournalEntry[], pieces: readonly Piece[]): boolean {
    const { device } = this.#parts.membership();
    const own = new Set([device, this.#parts.tablet()]);
    const isOwn = ({ event }: JournalEntry): boolean =>
      (event.type === 'case-opened' || event.type === 'pen-taken') && own.has(event.tablet ?? '');
    return !pieces.some((piece) => piece.device === device) && !chain.some(isOwn);
  }

  /** A tablet that was put out may be lost, and with it the other copy. */
  #isOfMembers(pieces: readonly Piece[]): boolean {
    const members = this.#parts.members();
    return pieces.every(({ device }) => members.get(device)?.putOut === null);
  }

  /** Something here goes with it, or is to be mended by it. */
  async #isKnownHere(caseId: string): Promise<boolean> {
    const { journal } = this.#parts;
    const [buried, damage, ends] = await Promise.all([
      journal.listTombstones(),
      journal.damage.read(),
      readSecondEnds(journal, caseId),
    ]);
    if (!buried.ok || !damage.ok || !ends.ok) return true;
    const { cases, unnamed } = damage.value;
    return (
      unnamed > 0 ||
      ends.value.length > 0 ||
      [...buried.value, ...cases].some((each) => each.caseId === caseId)
    );
  }

  /** Notes that a case lies on the store, and that its case file was begun. Rejects where the journal does not. */
  async keep(row: StoreOnlyCase, epoch: number): Promise<readonly Change[]> {
    const { specId } = row.summary;
    if (specId !== undefined) {
      const value = { caseId: row.caseId };
      const { documents } = this.#parts.journal;
      const put = await documents.put({ kind: BEGUN_AT_STORE, id: specId, value, epoch });
      if (!put.ok) throw new Error(put.error.code);
    }
    this.#parts.onStoreOnly();
    // How much the store has of it counts again once it is here: what is written here meanwhile is offered.
    return [
      { room: 'storeOnly', put: row },
      { room: 'cases', drop: row.caseId },
    ];
  }

  /** The line goes: the case is kept here whole, or was deleted. */
  drop(caseId: string): readonly Change[] {
    this.#parts.onStoreOnly();
    return [{ room: 'storeOnly', drop: caseId }];
  }

  /** A case file of a case that was deleted may be begun again, as on any tablet. */
  async forget(caseId: string, epoch: number): Promise<void> {
    const row = await this.row(caseId);
    const id = row?.summary.specId;
    if (id === undefined) return;
    await this.#parts.journal.documents.delete({ kind: BEGUN_AT_STORE, id, epoch });
  }
}

/** Null where no version of this app wrote the case. */
function factsOf(summary: CaseSummary, chain: readonly JournalEntry[]): unknown {
  try {
    return { ...caseFacts(summary, replay(chain)), factsVersion: FACTS_VERSION };
  } catch {
    return null;
  }
}
