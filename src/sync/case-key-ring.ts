/** The keys of cases that this tablet has: kept wrapped, opened when they are wanted, made for a new case. */
import { type CaseKey, newCaseKey, openCaseKey, type WrappedCaseKey } from './case-keys.ts';
import { keysOf, newestSecret } from './clinic-secret.ts';
import type { NewMessage } from './outbox.ts';
import type { ClinicSecret, Sealer } from './sealed-types.ts';
import type { Change, SharingDatabase } from './sharing-database.ts';

/** Opened keys that are held at a time; a reading of many cases meets each once. */
const HELD_MAX = 500;

/** Under which name it is noted that the store has a wrapped key, or is owed it. */
export const keyMark = ({ caseId, keyId, secretId }: WrappedCaseKey): string =>
  `k:${caseId}:${keyId}:${secretId}`;

export class CaseKeyRing {
  readonly #database: SharingDatabase;
  readonly #crypto: Crypto;
  readonly #secrets: () => readonly ClinicSecret[];
  readonly #open = new Map<string, CaseKey>();

  constructor(o: {
    readonly database: SharingDatabase;
    readonly crypto: Crypto;
    readonly secrets: () => readonly ClinicSecret[];
  }) {
    this.#database = o.database;
    this.#crypto = o.crypto;
    this.#secrets = o.secrets;
  }

  /** Every way in which the keys of one case, or of all, were wrapped, as they were kept. */
  async kept(caseId?: string): Promise<readonly WrappedCaseKey[]> {
    const range = caseId === undefined ? undefined : IDBKeyRange.bound([caseId], [caseId, []]);
    const rows = await this.#database.all('keys', range === undefined ? {} : { range });
    return rows.map(({ value }) => value);
  }

  /** Notes a key that came, or was made. */
  keep(key: WrappedCaseKey): Change {
    const name = `${key.keyId}.${key.secretId}`;
    return { room: 'keys', put: { item: key.caseId, name, value: key } };
  }

  #hold(key: CaseKey): CaseKey {
    const [oldest] = this.#open.keys();
    if (this.#open.size >= HELD_MAX && oldest !== undefined) this.#open.delete(oldest);
    this.#open.set(`${key.caseId} ${key.id}`, key);
    return key;
  }

  /** A key that this tablet has, by its id; null where it has not, or cannot open it yet. */
  async named(o: { readonly caseId: string; readonly keyId: string }): Promise<CaseKey | null> {
    const held = this.#open.get(`${o.caseId} ${o.keyId}`);
    if (held !== undefined) return held;
    for (const wrapped of await this.kept(o.caseId)) {
      if (wrapped.keyId !== o.keyId) continue;
      const opened = await openCaseKey(this.#crypto, { wrapped, secrets: this.#secrets() });
      if (opened.ok) return this.#hold(opened.value);
    }
    return null;
  }

  /**
   * The key that new entries of a case are sealed with: one that the tablets of today can open and no other ever
   * could, made where there is none. What is new must be kept and sent together with the first message that it seals.
   */
  async forWriting(
    sealer: Sealer,
    caseId: string,
  ): Promise<{
    readonly caseKey: CaseKey;
    readonly made: { readonly wrapped: WrappedCaseKey; readonly message: NewMessage } | null;
  }> {
    const secrets = this.#secrets();
    const newest = newestSecret(secrets);
    const kept = await this.kept(caseId);
    // Of two keys that were made apart, all tablets take the same one.
    const { id } = await keysOf(this.#crypto, newest);
    // What an older secret wrapped too may be known to a tablet that was put out since.
    const old = new Set(kept.filter((key) => key.secretId !== id).map(({ keyId }) => keyId));
    const ofToday = kept.filter(({ keyId }) => !old.has(keyId));
    for (const wrapped of ofToday.toSorted((a, b) => (a.keyId < b.keyId ? -1 : 1))) {
      const caseKey = await this.named(wrapped);
      if (caseKey !== null) return { caseKey, made: null };
    }
    const { message, wrapped, caseKey } = await newCaseKey(sealer, caseId);
    this.#hold(caseKey);
    return { caseKey, made: { wrapped, message: { stream: 'K', ...message } } };
  }

  /** The key of a case that was deleted goes with it. */
  forget(caseId: string): Change {
    for (const name of this.#open.keys())
      if (name.startsWith(`${caseId} `)) this.#open.delete(name);
    return { room: 'keys', drop: IDBKeyRange.bound([caseId], [caseId, []]) };
  }
}
