/**
 * What comes from the store is opened here: a message counts where a tablet of the clinic signed it. What
 * cannot be opened yet, because its tablet or its key is not known, waits and is tried again when more is
 * known; what never will be is told by name and left out.
 */
import { type CaseKeyRing, keyMark } from './case-key-ring.ts';
import { openKeyMessage } from './case-keys.ts';
import { withSecret } from './clinic-secret.ts';
import { foldMembers } from './members.ts';
import { type Opener, openMessage, statementIn } from './seal.ts';
import { openClinicSecret } from './sealed-for.ts';
import type {
  Members,
  Membership,
  OpenedMessage,
  RefusedMessage,
  SignedStatement,
} from './sealed-types.ts';
import {
  type Change,
  keepOne,
  type SharingDatabase,
  type WaitingMessage,
} from './sharing-database.ts';
import type { StoredMessage } from './store-types.ts';
import { partsOf } from './subjects.ts';

/** Waiting messages that are tried again at a time. */
const RETRIED_AT_ONCE = 256;
/** Refused messages that are told; more say no more. */
const REFUSED_MAX = 1000;

/** A message that opened, and which it is. */
export interface TakenMessage extends OpenedMessage {
  readonly message: StoredMessage;
}

export const MEMBERSHIP = 'membership';

export interface IntakeParts {
  readonly crypto: Crypto;
  readonly database: SharingDatabase;
  readonly membership: Membership;
  readonly keys: (secrets: () => Membership['secrets']) => CaseKeyRing;
  /** Statements about tablets that are known already; they were verified. */
  readonly statements: readonly SignedStatement[];
  /** Keeps what was said, in its order; answers what is to be noted of it. */
  readonly take: (messages: readonly TakenMessage[]) => Promise<readonly Change[]>;
  /** Whether a case was deleted on purpose: its keys are not kept any more. */
  readonly isDeleted: (caseId: string) => Promise<boolean>;
  /** Who belongs to the clinic, the clinic's secret or what is refused has changed. */
  readonly onChange: () => void;
}

export class Intake {
  readonly keys: CaseKeyRing;
  readonly #parts: IntakeParts;
  #membership: Membership;
  #statements: readonly SignedStatement[];
  #members: Members;
  #isMoreKnown = true;

  constructor(parts: IntakeParts) {
    this.#parts = parts;
    this.#membership = parts.membership;
    this.#statements = parts.statements;
    this.#members = foldMembers(parts.statements);
    this.keys = parts.keys(() => this.#membership.secrets);
  }

  get membership(): Membership {
    return this.#membership;
  }

  get statements(): readonly SignedStatement[] {
    return this.#statements;
  }

  get members(): Members {
    return this.#members;
  }

  /** Statements that were verified: new ones are counted with those that are known. */
  learn(statements: readonly SignedStatement[]): void {
    const known = new Set(this.#statements.map(({ signature }) => signature));
    const fresh = statements.filter(({ signature }) => !known.has(signature));
    if (fresh.length === 0) return;
    this.#statements = [...this.#statements, ...fresh];
    this.#members = foldMembers(this.#statements);
    this.#isMoreKnown = true;
    this.#parts.onChange();
  }

  /** The membership was changed at this tablet. */
  setMembership(membership: Membership): void {
    this.#membership = membership;
    this.#isMoreKnown = true;
    this.#parts.onChange();
  }

  #opener(): Opener {
    const { crypto } = this.#parts;
    const { site, rootKey, secrets } = this.#membership;
    const caseKey: Opener['caseKey'] = (o) => this.keys.named(o);
    return { crypto, site, rootKey, secrets, members: this.#members, caseKey };
  }

  /** Opens one message; nothing is kept of it. */
  open(message: StoredMessage): ReturnType<typeof openMessage> {
    return openMessage(this.#opener(), message);
  }

  /** Opens a portion of one stream and keeps what it says. Rejects where that could not be kept. */
  async take(portion: readonly StoredMessage[]): Promise<readonly Change[]> {
    const changes = await this.#takeAll(portion);
    if (!this.#isMoreKnown) return changes;
    // What waits may open by what has just been learnt, once that is kept.
    await this.#parts.database.change(changes);
    this.#isMoreKnown = false;
    await this.#tryWaiting();
    return [];
  }

  async #takeAll(messages: readonly StoredMessage[]): Promise<readonly Change[]> {
    const ofKeys = messages.filter(({ stream }) => stream === 'K');
    const others = messages.filter(({ stream }) => stream !== 'K');
    const fromKeys: Change[] = [];
    for (const message of ofKeys) fromKeys.push(...(await this.#takeKey(message)));
    return [...fromKeys, ...(await this.#takeOthers(others))];
  }

  async #takeKey(message: StoredMessage): Promise<readonly Change[]> {
    const { crypto } = this.#parts;
    const { site, rootKey } = this.#membership;
    const opener = { crypto, site, rootKey, members: this.#members };
    const opened = await openKeyMessage(opener, message);
    if (!opened.ok) return this.#left(message, opened.error);
    this.#isMoreKnown = true;
    const { value } = opened;
    if (value.type === 'case-key') {
      if (await this.#parts.isDeleted(value.key.caseId)) return gone(message);
      const mark: Change = { room: 'offered', put: { id: keyMark(value.key) } };
      return [this.keys.keep(value.key), mark, ...gone(message)];
    }
    const secret = await openClinicSecret(crypto, {
      membership: this.#membership,
      secret: value.secret,
    });
    // Not for this tablet: it was paired later, or put out.
    if (secret === null) return gone(message);
    const { secrets } = this.#membership;
    this.#membership = {
      ...this.#membership,
      secrets: await withSecret(crypto, { secrets, secret }),
    };
    this.#parts.onChange();
    return [keepOne(MEMBERSHIP, this.#membership), ...gone(message)];
  }

  async #takeOthers(messages: readonly StoredMessage[]): Promise<readonly Change[]> {
    if (messages.length === 0) return [];
    const opener = this.#opener();
    const results = await Promise.all(
      messages.map(async (message) => ({ message, opened: await openMessage(opener, message) })),
    );
    const taken: TakenMessage[] = [];
    const changes: Change[] = [];
    for (const { message, opened: first } of results) {
      const isUnknown = !first.ok && first.error.code === 'unknown-tablet';
      const opened = isUnknown ? await this.#openUnknown(message) : first;
      if (opened.ok) {
        taken.push({ ...opened.value, message });
        changes.push(...gone(message));
      } else if (await this.#isOfDeleted(message)) changes.push(...gone(message));
      else changes.push(...this.#left(message, opened.error));
    }
    const kept = taken.length === 0 ? [] : await this.#parts.take(taken);
    // What is to wait although it opened is said by who keeps it.
    return [...changes, ...kept];
  }

  /** What was left in the store of a case that was deleted is nobody's to open. */
  async #isOfDeleted({ stream, subject }: StoredMessage): Promise<boolean> {
    return stream === 'J' && this.#parts.isDeleted(partsOf(subject).item);
  }

  /** A tablet that nobody knows yet may be vouched for by the very message, or by one before it. */
  async #openUnknown(message: StoredMessage): ReturnType<typeof openMessage> {
    if (message.stream === 'F') {
      const statement = await statementIn(this.#opener(), message);
      if (statement !== null) this.learn([statement]);
    }
    return openMessage(this.#opener(), message);
  }

  /** What becomes of a message that does not open. */
  #left(message: StoredMessage, { code, subject }: RefusedMessage): readonly Change[] {
    if (code === 'no-key' || code === 'unknown-tablet') {
      const waiting: WaitingMessage = { ...message, code };
      return [{ room: 'waiting', put: waiting }];
    }
    this.#parts.onChange();
    const { device } = partsOf(subject);
    const told: Change = { room: 'refused', put: { subject, code, device } };
    // What bears the name of another message must not take the place of that one, which may wait.
    return code === 'not-a-message' ? [told] : [told, ...gone(message)];
  }

  /** Tries again what waits: something outside may have changed. */
  async retry(): Promise<void> {
    if ((await this.#parts.database.count('waiting')) > 0) await this.#tryWaiting();
    this.#isMoreKnown = false;
  }

  /** Tries everything that waits, facts before entries, as long as something more is learnt by it. */
  async #tryWaiting(): Promise<void> {
    const { database } = this.#parts;
    do {
      this.#isMoreKnown = false;
      for (const first of ['f.', 'k.', 'j.']) {
        let range = IDBKeyRange.bound(first, `${first}\uffff`);
        for (;;) {
          const some = await database.all('waiting', { range, most: RETRIED_AT_ONCE });
          const last = some.at(-1);
          if (last === undefined) break;
          const inOrder = some.toSorted((a, b) => a.seq - b.seq);
          await this.#tryTogether(inOrder.map(({ code: _, ...rest }) => rest));
          range = IDBKeyRange.bound(last.subject, `${first}\uffff`, true);
        }
      }
    } while (this.#isMoreKnown);
  }

  /** One that cannot be kept now must not keep the others waiting. */
  async #tryTogether(messages: readonly StoredMessage[]): Promise<void> {
    const { database } = this.#parts;
    try {
      await database.change(await this.#takeAll(messages));
    } catch {
      if (messages.length === 1) return;
      for (const message of messages) await this.#tryTogether([message]);
    }
  }

  /** Drops what is told of refused messages beyond what says anything. */
  async prune(): Promise<void> {
    const { database } = this.#parts;
    const names = await database.keys('refused');
    const drop = names.slice(0, Math.max(0, names.length - REFUSED_MAX));
    await database.change(drop.map((name): Change => ({ room: 'refused', drop: name })));
  }
}

const gone = ({ subject }: StoredMessage): readonly Change[] => [
  { room: 'waiting', drop: subject },
];
