/**
 * The clinic lead's desk: opened by a passphrase, closed when idle or left. Behind it drafts are
 * written, confirmed into numbered revisions and retired. Whatever is done here is logged.
 */

import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { beginHistory, type EditHistory, reasonedRemovals } from '../../protocol/edit-history.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { LeadDeed, LeadValues } from '../../words/codes.ts';
import type { Readable } from '../readable.ts';
import type { OursKept } from './lead-corrections.ts';
import { APPROVAL, OWN_PROTOCOL, protocolHash, RETIREMENT, revisionId } from './lead-documents.ts';
import { type DraftHead, dropDraft, keepDraft, keepEdits, readDrafts } from './lead-drafts.ts';
import { LeadGate } from './lead-gate.ts';
import { appendLeadLog, readLeadLog, refusalsTold } from './lead-log.ts';
import type { LeadParts } from './lead-parts.ts';
import { parseProtocolFileText, protocolFileText, unconfirmed } from './lead-protocol-file.ts';
import {
  ancestorHashes,
  nextRevision,
  type RefusedDocument,
  readRevisions,
} from './lead-revisions.ts';
import { FIRST_LEAD_STATE, type LeadState, refusedConfirmation } from './lead-state.ts';

/** The desk closes itself after this long without a touch or a key. */
export const IDLE_MS = 5 * 60_000;

type Done<T> = Promise<Result<T, Problem>>;

export class LeadDesk {
  readonly #parts: LeadParts;
  readonly #state: StoreApi<LeadState>;
  readonly #gate: LeadGate;
  #cancelIdle: () => void = () => undefined;
  #lastTouchMs = 0;
  #logging: Done<null> = Promise.resolve(ok(null));

  constructor(parts: LeadParts) {
    this.#parts = parts;
    this.#state = createStore<LeadState>(() => ({
      ...FIRST_LEAD_STATE,
      canLock: parts.crypto !== null,
    }));
    this.#gate = new LeadGate(parts);
  }

  get state(): Readable<LeadState> {
    return this.#state;
  }

  /** Reads everything again, and logs what was found not to be as it was confirmed. */
  async refresh(): Promise<void> {
    const { journal } = this.#parts;
    // Nothing else on the desk waits for a file that may not come.
    void this.#parts.corrections().then((corrections) => this.#set({ corrections }));
    const revisions = await readRevisions(journal);
    await this.#logRefused(revisions.refused);
    const log = await readLeadLog(journal);
    const gate = await this.#gate.read();
    this.#set({
      isRead: true,
      keeper: gate.keeper,
      waitUntilWallMs: gate.waitUntilWallMs,
      drafts: await readDrafts(journal),
      revisions: revisions.all,
      refused: revisions.refused,
      log: log.ok ? log.value : this.#state.getState().log,
      templates: this.#parts.templates(),
    });
  }

  async #logRefused(refused: readonly RefusedDocument[]): Promise<void> {
    if (refused.length === 0 || this.#parts.epoch() === null) return;
    const log = await readLeadLog(this.#parts.journal);
    const told = refusalsTold(log.ok ? log.value.entries : []);
    for (const { id, approvedHash, storedHash } of refused) {
      if (told.has(`${id} ${storedHash}`)) continue;
      await this.#log('stored-refused', { document: id, approvedHash, storedHash });
    }
  }

  /** Sets the first passphrase of this tablet and opens the desk. */
  async setPassphrase(o: { readonly person: string; readonly passphrase: string }): Done<null> {
    const epoch = this.#writing();
    if (!epoch.ok) return epoch;
    const set = await this.#gate.set({ ...o, epoch: epoch.value, isFirst: true });
    if (!set.ok) return set;
    await this.#opened(o.person, 'passphrase-set');
    return ok(null);
  }

  /** Opens the desk. Errors: `wrong-passphrase`, `wait`, `no-passphrase`, `no-crypto`. */
  async open(passphrase: string): Done<null> {
    const epoch = this.#writing();
    if (!epoch.ok) return epoch;
    const tried = await this.#gate.try({ passphrase, epoch: epoch.value });
    if (tried.ok) {
      await this.#opened(tried.value, 'opened');
      return ok(null);
    }
    if (tried.error.code === 'wrong-passphrase') {
      await this.#log('passphrase-refused', { failed: Number(tried.error.came) });
    }
    await this.refresh();
    return tried;
  }

  /**
   * The way out when the passphrase is forgotten: anybody can set a new one, but the log says so
   * for good, and what was confirmed before is marked.
   */
  async resetPassphrase(o: {
    readonly person: string;
    readonly passphrase: string;
    readonly reason: string;
  }): Done<null> {
    const epoch = this.#writing();
    if (!epoch.ok) return epoch;
    if (o.reason.trim() === '') return err(problem('reason', 'why it is set anew', '', 'empty'));
    const set = await this.#gate.set({ ...o, epoch: epoch.value, isFirst: false });
    if (!set.ok) return set;
    await this.#log('passphrase-reset', { person: o.person, reason: o.reason });
    await this.#opened(o.person, 'opened');
    await this.#parts.onChanged();
    return ok(null);
  }

  async #opened(person: string, deed: 'opened' | 'passphrase-set'): Promise<void> {
    this.#set({ isOpen: true, keeper: person, closedBecause: null });
    await this.#log(deed, {});
    await this.#noteBreak();
    this.touch();
    await this.refresh();
  }

  /** A break of the log is noted by whoever opens the desk next; from there on the log vouches again. */
  async #noteBreak(): Promise<void> {
    const log = await readLeadLog(this.#parts.journal);
    if (log.ok && log.value.isOpenBreak) {
      await this.#log('break-noted', { broken: log.value.broken });
    }
  }

  /** Somebody is at the desk: the idle time begins anew. */
  touch(): void {
    if (!this.#state.getState().isOpen || this.#isIdle()) return;
    this.#lastTouchMs = this.#nowMonoMs();
    this.#cancelIdle();
    this.#cancelIdle = this.#parts.timers.after(IDLE_MS, () => void this.close('idle'));
  }

  #isIdle(): boolean {
    const isLate = this.#lastTouchMs > 0 && this.#nowMonoMs() - this.#lastTouchMs >= IDLE_MS;
    if (isLate) void this.close('idle');
    return isLate;
  }

  #nowMonoMs(): number {
    return this.#parts.clock.stamp().monoMs + 1;
  }

  /** Closes the desk. */
  async close(why: 'idle' | 'left' | 'by-hand'): Promise<void> {
    if (!this.#state.getState().isOpen) return;
    this.#cancelIdle();
    this.#lastTouchMs = 0;
    const logged = this.#log('closed', { why });
    this.#set({ isOpen: false, closedBecause: why });
    await logged;
    await this.refresh();
  }

  /** Begins a draft from a protocol that is on this tablet. Returns its id. */
  async beginDraft(start: Protocol): Done<string> {
    return this.#begin({
      start,
      startHash: protocolHash(start),
      origin: 'here',
      ancestors: [],
    });
  }

  async #begin(
    from: Pick<DraftHead, 'start' | 'startHash' | 'origin' | 'ancestors'>,
  ): Done<string> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const { journal, newId } = this.#parts;
    const { start, startHash, origin } = from;
    const head = { ...from, id: newId(), begunBy: this.#by(), begunWallMs: this.nowWallMs() };
    const kept = await keepDraft(journal, head, epoch.value);
    if (!kept.ok) return kept;
    if (origin === 'here') {
      await this.#log('draft-begun', { protocol: start.id, from: startHash, draft: head.id });
    }
    this.#set({
      drafts: [...this.#state.getState().drafts, { ...head, history: beginHistory(start) }],
    });
    await this.refresh();
    return ok(head.id);
  }

  /** Keeps what was edited. The screen shows it at once; the store follows. */
  async saveDraft(id: string, history: EditHistory): Done<null> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const drafts = this.#state.getState().drafts.map((d) => (d.id === id ? { ...d, history } : d));
    this.#set({ drafts });
    const kept = await keepEdits(this.#parts.journal, { id, history, epoch: epoch.value });
    return kept.ok ? ok(null) : kept;
  }

  /** Says why the clinic's own figures are kept against a template. */
  async keepOurs(answers: readonly OursKept[]): Done<null> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    if (answers.some(({ reason }) => reason.trim() === '')) {
      return err(problem('reason', 'why it is kept', '', 'empty'));
    }
    const told = await Promise.all(answers.map((a) => this.#log('correction-kept', { ...a })));
    await this.refresh();
    await this.#parts.onChanged();
    return told.find(({ ok }) => !ok) ?? ok(null);
  }

  async dropDraft(id: string): Done<null> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const draft = this.#state.getState().drafts.find((d) => d.id === id);
    const dropped = await dropDraft(this.#parts.journal, { id, epoch: epoch.value });
    if (!dropped.ok) return dropped;
    await this.#log('draft-dropped', { draft: id, protocol: draft?.start.id ?? '' });
    await this.refresh();
    return ok(null);
  }

  /** The number that the next confirmed revision of a protocol gets. */
  nextRevision(protocolId: string): number {
    return nextRevision(protocolId, this.#state.getState());
  }

  /**
   * Makes a draft the next revision: immutable, numbered, with its hash. The revision before it is
   * retired. Errors: `unconfirmed-figures`, `faults`, and what the store refuses.
   */
  async confirm(draftId: string): Done<{ readonly revision: number; readonly hash: string }> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const draft = this.#state.getState().drafts.find((d) => d.id === draftId);
    if (draft === undefined) return err(problem('draft', 'a draft of this tablet', draftId));
    const revision = this.nextRevision(draft.history.protocol.id);
    const protocol = { ...draft.history.protocol, revision };
    const no = refusedConfirmation(protocol);
    if (no !== null) return err(no);
    const hash = protocolHash(protocol);
    const id = revisionId(protocol);
    const { journal } = this.#parts;
    const approval = { hash, by: this.#by(), onWallMs: this.nowWallMs() };
    // The log first: an approval counts only with its entry.
    for (const { title, reason } of reasonedRemovals(draft.history)) {
      const values = { protocol: protocol.id, revision, entry: title, reason };
      const told = await this.#log('entry-removed', values);
      if (!told.ok) return told;
    }
    const from = draft.startHash;
    const logged = await this.#log('confirmed', { protocol: protocol.id, revision, hash, from });
    if (!logged.ok) return logged;
    const put = (kind: string, value: unknown) =>
      journal.documents.put({ kind, id, value, epoch: epoch.value });
    const stored = await put(OWN_PROTOCOL, protocol);
    if (!stored.ok) return stored;
    const approved = await put(APPROVAL, approval);
    if (!approved.ok) return approved;
    await this.#retireOlder(protocol);
    await dropDraft(journal, { id: draftId, epoch: epoch.value });
    await this.refresh();
    await this.#parts.onChanged();
    return ok({ revision, hash });
  }

  async #retireOlder(by: Protocol): Promise<void> {
    for (const { protocol, approval, retirement } of this.#state.getState().revisions) {
      if (protocol.id !== by.id || approval === null || retirement !== null) continue;
      await this.#retire(protocol, `followed by revision ${by.revision}`);
    }
  }

  async #retire(protocol: Protocol, reason: string): Done<null> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const hash = protocolHash(protocol);
    const id = revisionId(protocol);
    const value = { hash, by: this.#by(), onWallMs: this.nowWallMs(), reason };
    const kept = await this.#parts.journal.documents.put({
      kind: RETIREMENT,
      id,
      value,
      epoch: epoch.value,
    });
    if (!kept.ok) return kept;
    const { revision } = protocol;
    return this.#log('retired', { protocol: protocol.id, revision, hash, reason });
  }

  /** Takes a revision out of use; cases that run on it go on. */
  async retire(protocol: Protocol, reason: string): Done<null> {
    const retired = await this.#retire(protocol, reason);
    await this.refresh();
    await this.#parts.onChanged();
    return retired;
  }

  /** The text of a file with this protocol for another clinic. */
  async exportText(protocol: Protocol): Done<string> {
    const hash = protocolHash(protocol);
    const ancestors = ancestorHashes(protocol, this.#state.getState());
    const { id, revision } = protocol;
    const logged = await this.#log('exported', { protocol: id, revision, hash });
    return logged.ok ? ok(protocolFileText({ protocol, hash, ancestors })) : logged;
  }

  /** Takes a file in as an unconfirmed draft. A file that is refused is logged with the place. */
  async importText(text: string): Done<string> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const file = parseProtocolFileText(text);
    if (!file.ok) {
      const { place, expected, came, code } = file.error;
      await this.#log('import-refused', { code, place, expected, came });
      await this.refresh();
      return file;
    }
    const { protocol, hash, ancestors } = file.value;
    const start = unconfirmed(protocol);
    const begun = await this.#begin({ start, startHash: hash, origin: 'import', ancestors });
    if (!begun.ok) return begun;
    await this.#log('imported', { protocol: protocol.id, hash, draft: begun.value });
    await this.refresh();
    return begun;
  }

  /** One entry after the other: two that were written at once would take the same number. */
  #log(deed: LeadDeed, values: LeadValues): Done<null> {
    const by = this.#state.getState().isOpen ? this.#by() : '';
    const atWallMs = this.nowWallMs();
    this.#logging = this.#logging.then(async () => {
      const epoch = this.#writing();
      if (!epoch.ok) return epoch;
      const entry = { epoch: epoch.value, atWallMs, by, deed, values };
      const kept = await appendLeadLog(this.#parts.journal, entry);
      return kept.ok ? ok(null) : kept;
    });
    return this.#logging;
  }

  #by(): string {
    return this.#state.getState().keeper ?? '';
  }

  /** The wall clock of this window, in ms. */
  nowWallMs(): number {
    return this.#parts.clock.stamp().wallMs;
  }

  #writing(): Result<number, Problem> {
    const epoch = this.#parts.epoch();
    if (epoch !== null) return ok(epoch);
    return err(problem('window', 'this window to be the one that writes', 'another', 'not-writer'));
  }

  #atDesk(): Result<number, Problem> {
    if (!this.#state.getState().isOpen || this.#isIdle()) {
      return err(problem('desk', 'the desk to be open', 'a closed desk', 'desk-closed'));
    }
    this.touch();
    return this.#writing();
  }

  #set(change: Partial<LeadState>): void {
    this.#state.setState(change);
  }
}
