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
import { DeskIdle } from './desk-idle.ts';
import { DrillDesk } from './drill-desk.ts';
import type { OursKept } from './lead-corrections.ts';
import { protocolHash } from './lead-documents.ts';
import {
  DraftEdits,
  type DraftStart,
  dropDraft,
  keepDraft,
  keepEdits,
  type ProtocolDraft,
} from './lead-drafts.ts';
import { LeadGate } from './lead-gate.ts';
import type { LeadParts } from './lead-parts.ts';
import {
  draftOfFile,
  parseProtocolFileText,
  protocolFileText,
  readHere,
} from './lead-protocol-file.ts';
import { readDeskState, untold } from './lead-reading.ts';
import { bringBackRevision, type RetireHand, retireOlder, retireRevision } from './lead-retire.ts';
import {
  ancestorHashes,
  nextRevision,
  type ProtocolSaid,
  type RefusedDocument,
  type Revision,
  readRevisions,
  sayOfProtocol,
} from './lead-revisions.ts';
import { refusedSecond } from './lead-second.ts';
import { FIRST_LEAD_STATE, type LeadState, refusedConfirmation } from './lead-state.ts';
import { LogWriter } from './log-writer.ts';
import { RecallDesk } from './recall-desk.ts';
import { SheetDesk } from './sheet-desk.ts';

const numbered = ({ id, revision }: Protocol) => ({ protocol: id, revision });
type Done<T> = Promise<Result<T, Problem>>;
type Confirmed = { readonly revision: number; readonly hash: string };

export class LeadDesk {
  /** The product sheets, which are written while the desk is open. */
  readonly sheets: SheetDesk;
  readonly recalls: RecallDesk;
  readonly drills: DrillDesk;
  readonly #parts: LeadParts;
  readonly #state: StoreApi<LeadState>;
  readonly #edits = new DraftEdits();
  readonly #gate: LeadGate;
  readonly #hand: RetireHand;
  readonly #idle: DeskIdle;
  readonly #logWriter: LogWriter;

  constructor(parts: LeadParts) {
    this.#parts = parts;
    this.#state = createStore<LeadState>(() => ({
      ...FIRST_LEAD_STATE,
      canLock: parts.crypto !== null,
    }));
    this.#logWriter = new LogWriter({ journal: parts.journal, writing: () => this.#writing() });
    this.#gate = new LeadGate(parts);
    this.#idle = new DeskIdle({ ...parts, onIdle: () => void this.close('idle') });
    this.#hand = {
      atDesk: () => this.#atDesk(),
      by: () => this.#by(),
      log: (deed, values) => this.#log(deed, values),
      nowWallMs: () => this.nowWallMs(),
      say: (item, said) => this.#say(item, said),
    };
    this.sheets = new SheetDesk({ ...parts, ...this.#hand });
    const onLogged = () => this.refresh();
    this.recalls = new RecallDesk({ ...this.#hand, onLogged });
    this.drills = new DrillDesk({ ...this.#hand, onLogged });
  }

  get state(): Readable<LeadState> {
    return this.#state;
  }

  /** Reads everything again, and logs what was found not to be as it was confirmed. */
  async refresh(): Promise<void> {
    const { journal } = this.#parts;
    // Nothing else on the desk waits for a file that may not come.
    void this.#parts.corrections().then((corrections) => this.#set({ corrections }));
    const turn = this.#edits.now;
    const revisions = await readRevisions(journal);
    await this.#logRefused(revisions.refused);
    const gate = await this.#gate.read();
    const desk = await readDeskState(journal, revisions);
    const drafts = this.#edits.newest(turn, desk.drafts ?? [], this.#state.getState().drafts);
    this.#set({ ...gate, ...desk, drafts, templates: this.#parts.templates() });
  }

  async #logRefused(refused: readonly RefusedDocument[]): Promise<void> {
    if (refused.length === 0 || this.#parts.epoch() === null) return;
    for (const { id, approvedHash, storedHash } of await untold(this.#parts.journal, refused)) {
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
    this.touch();
    await this.#log(deed, {});
    await this.refresh();
    await this.#noteBreak();
    await this.refresh();
  }

  /** A break of the log is noted by whoever opens the desk next; from there on the log vouches again. */
  async #noteBreak(): Promise<void> {
    const { broken, ownBroken = broken, isOpenBreak } = this.#state.getState().log;
    if (isOpenBreak) await this.#log('break-noted', { broken: ownBroken });
  }

  /** Somebody is at the desk: the idle time begins anew. */
  touch(): void {
    if (this.#state.getState().isOpen) this.#idle.touch();
  }

  /** Closes the desk. */
  async close(why: 'idle' | 'left' | 'by-hand'): Promise<void> {
    if (!this.#state.getState().isOpen) return;
    this.#idle.stop();
    const logged = this.#log('closed', { why });
    this.#set({ isOpen: false, closedBecause: why });
    await logged;
    await this.refresh();
  }

  /**
   * Begins a draft of `of`; the log says from what: its own hash, that of what it is a copy of, or
   * nothing for a blank one. Returns its id.
   */
  async beginDraft(of: Protocol, copied = protocolHash(of)): Done<string> {
    const startHash = protocolHash(of);
    const start = readHere(of, this.#state.getState().revisions);
    return this.#begin({ start, startHash, origin: 'here', ancestors: [], from: null }, copied);
  }

  async #begin(from: DraftStart, logged = from.startHash): Done<string> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const { journal, newId } = this.#parts;
    const { start, origin } = from;
    const begun = { begunBy: this.#by(), begunWallMs: this.nowWallMs() };
    const head = { ...from, ...begun, id: newId(), tablet: this.#parts.sender().tablet };
    const kept = await keepDraft(journal, head, epoch.value);
    if (!kept.ok) return kept;
    if (origin === 'here') {
      await this.#log('draft-begun', { protocol: start.id, from: logged, draft: head.id });
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
    this.#edits.note(id);
    this.#set({ drafts });
    const kept = await keepEdits(this.#parts.journal, { id, history, epoch: epoch.value });
    this.#edits.note(id);
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
    await this.#changed();
    return told.find(({ ok }) => !ok) ?? ok(null);
  }

  /** Whether each revision is confirmed by two people from now on. */
  async askSecond(isAsked: boolean): Done<null> {
    const epoch = this.#atDesk();
    return epoch.ok ? this.#told('second-person', { asked: isAsked ? 1 : 0 }) : epoch;
  }

  #draft(id: string): ProtocolDraft | undefined {
    return this.#state.getState().drafts.find((draft) => draft.id === id);
  }

  async dropDraft(id: string): Done<null> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const draft = this.#draft(id);
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
   * retired. Errors: `unconfirmed-figures`, `faults`, what the store refuses, and those of a second
   * person, who is named where the clinic asks for one.
   */
  async confirm(draftId: string, second = ''): Done<Confirmed> {
    const epoch = this.#atDesk();
    if (!epoch.ok) return epoch;
    const draft = this.#draft(draftId);
    if (draft === undefined) return err(problem('draft', 'a draft of this tablet', draftId));
    const revision = this.nextRevision(draft.history.protocol.id);
    const protocol = { ...draft.history.protocol, revision };
    const { asksSecond } = this.#state.getState();
    const noSecond = asksSecond ? refusedSecond(draft, { keeper: this.#by(), second }) : null;
    const no = refusedConfirmation(protocol) ?? noSecond;
    if (no !== null) return err(no);
    const hash = protocolHash(protocol);
    const both = asksSecond ? { second: second.trim() } : {};
    const approval = { hash, by: this.#by(), onWallMs: this.nowWallMs(), ...both };
    // The log first: an approval counts only with its entry.
    for (const { title, reason } of reasonedRemovals(draft.history)) {
      const removed = { ...numbered(protocol), entry: title, reason };
      const told = await this.#log('entry-removed', removed);
      if (!told.ok) return told;
    }
    const values = { ...numbered(protocol), hash, from: draft.startHash, ...both };
    const logged = await this.#log('confirmed', values);
    if (!logged.ok) return logged;
    const stored = await this.#say(protocol.id, [
      { type: 'written', protocol },
      { type: 'confirmed', ...approval },
    ]);
    if (!stored.ok) return stored;
    await retireOlder(this.#hand, protocol, this.#state.getState().revisions);
    await dropDraft(this.#parts.journal, { id: draftId, epoch: epoch.value });
    await this.#changed();
    return ok({ revision, hash });
  }

  /** Takes a revision out of use; cases that run on it go on. */
  async retire(protocol: Protocol, reason: string): Done<null> {
    const retired = await retireRevision(this.#hand, protocol, { reason });
    await this.#changed();
    return retired;
  }

  /** Puts a revision that was retired back in force. */
  async bringBack(revision: Revision): Done<null> {
    const { asksSecond } = this.#state.getState();
    const back = await bringBackRevision(this.#hand, revision, { asksSecond });
    await this.#changed();
    return back;
  }

  /** The text of a file with this protocol for another clinic. */
  async exportText(protocol: Protocol): Done<string> {
    const hash = protocolHash(protocol);
    const ancestors = ancestorHashes(protocol, this.#state.getState());
    const logged = await this.#log('exported', { ...numbered(protocol), hash });
    const { clinic, tablet } = this.#parts.sender();
    const from = { clinic, by: this.#by(), tablet, onWallMs: this.nowWallMs() };
    return logged.ok ? ok(protocolFileText({ protocol, hash, ancestors, from })) : logged;
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
    const { protocol, hash } = file.value;
    const begun = await this.#begin(draftOfFile(file.value));
    if (!begun.ok) return begun;
    await this.#log('imported', { protocol: protocol.id, hash, draft: begun.value });
    await this.refresh();
    return begun;
  }

  #log(deed: LeadDeed, values: LeadValues): Done<null> {
    const by = this.#state.getState().isOpen ? this.#by() : '';
    return this.#logWriter.add({ atWallMs: this.nowWallMs(), by, deed, values });
  }

  #say(item: string, said: readonly ProtocolSaid[]): Done<null> {
    const parts = { ...this.#parts, nowWallMs: () => this.nowWallMs() };
    return sayOfProtocol(parts, { item, said, by: this.#by() });
  }

  async #told(deed: LeadDeed, values: LeadValues): Done<null> {
    const logged = await this.#log(deed, values);
    await this.#changed();
    return logged;
  }

  async #changed(): Promise<void> {
    await this.refresh();
    await this.#parts.onChanged();
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
    if (!this.#state.getState().isOpen || this.#idle.isOver()) {
      return err(problem('desk', 'the desk to be open', 'a closed desk', 'desk-closed'));
    }
    this.touch();
    return this.#writing();
  }

  #set(change: Partial<LeadState>): void {
    this.#state.setState(change);
  }
}
