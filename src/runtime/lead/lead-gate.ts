/** The passphrase and the attempts at it, as kept on the tablet. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Stamp } from '../../engine/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { Clock } from '../device/clock.ts';
import { ATTEMPTS, PASSPHRASE, THIS_TABLET } from './lead-documents.ts';
import {
  type Attempts,
  type CryptoLike,
  isPassphrase,
  makePassphrase,
  NO_ATTEMPTS,
  PASSPHRASE_LENGTH_MIN,
  parseAttempts,
  parsePassphrase,
  waitAfterMs,
} from './lead-passphrase.ts';

/** Two good clocks do not drift apart so far in a quarter of an hour. A design choice of this project. */
const WALL_JUMP_MS = 2000;

export class LeadGate {
  readonly #parts: {
    readonly journal: Journal;
    readonly clock: Clock;
    readonly crypto: CryptoLike | null;
  };

  /** The attempts that this page has last heard of, and when it first did. */
  #seen: { readonly attempts: Attempts; readonly since: Stamp } | null = null;

  constructor(parts: { journal: Journal; clock: Clock; crypto: CryptoLike | null }) {
    this.#parts = parts;
  }

  async #stored(kind: string): Promise<unknown> {
    const found = await this.#parts.journal.documents.get(kind, { id: THIS_TABLET });
    return found.ok ? found.value : null;
  }

  /**
   * What is left of the wait. It is counted by the monotonic clock from when this page first heard of the last
   * attempt, which nobody can set: another page, and one that was loaded anew, wait all of it. Where the
   * clock on the wall jumps meanwhile, the wait starts again.
   */
  #waitMs(attempts: Attempts): number {
    const now = this.#parts.clock.stamp();
    const { attempts: known, since } = this.#seen ?? { attempts: null, since: now };
    const isKnown = known?.failed === attempts.failed && known.lastWallMs === attempts.lastWallMs;
    const passedMs = now.monoMs - since.monoMs;
    const hasJumped = Math.abs(now.wallMs - since.wallMs - passedMs) > WALL_JUMP_MS;
    if (!isKnown || hasJumped) {
      this.#seen = { attempts, since: now };
      return waitAfterMs(attempts);
    }
    return Math.max(0, waitAfterMs(attempts) - passedMs);
  }

  #nowMs(): number {
    return this.#parts.clock.stamp().wallMs;
  }

  async read(): Promise<{ readonly keeper: string | null; readonly waitUntilWallMs: number }> {
    const stored = parsePassphrase(await this.#stored(PASSPHRASE));
    const attempts = parseAttempts(await this.#stored(ATTEMPTS));
    const nowMs = this.#nowMs();
    const waitMs = this.#waitMs(attempts);
    return { keeper: stored?.person ?? null, waitUntilWallMs: waitMs > 0 ? nowMs + waitMs : 0 };
  }

  /** Stores a passphrase. The first one is never set over another. */
  async set(o: {
    readonly person: string;
    readonly passphrase: string;
    readonly epoch: number;
    readonly isFirst: boolean;
  }): Promise<Result<null, Problem>> {
    const { crypto, journal } = this.#parts;
    if (crypto === null) return err(noCrypto());
    if (o.person.trim() === '') return err(problem('person', 'who answers for it', '', 'empty'));
    if ([...o.passphrase].length < PASSPHRASE_LENGTH_MIN) {
      const expected = `at least ${PASSPHRASE_LENGTH_MIN} characters`;
      return err(problem('passphrase', expected, [...o.passphrase].length, 'too-short'));
    }
    if (o.isFirst && parsePassphrase(await this.#stored(PASSPHRASE)) !== null) {
      return err(problem('passphrase', 'none yet', 'one that was set', 'already-set'));
    }
    const { person, passphrase, epoch } = o;
    const value = await makePassphrase(crypto, { person, passphrase, nowWallMs: this.#nowMs() });
    const document = { kind: PASSPHRASE, id: THIS_TABLET, value, epoch };
    const kept = await journal.documents.put(document);
    if (!kept.ok) return kept;
    return this.#keep(NO_ATTEMPTS, epoch);
  }

  /** Who keeps the desk, when the passphrase is theirs. A wrong one is counted before the answer. */
  async try(o: {
    readonly passphrase: string;
    readonly epoch: number;
  }): Promise<Result<string, Problem>> {
    const { crypto } = this.#parts;
    if (crypto === null) return err(noCrypto());
    const stored = parsePassphrase(await this.#stored(PASSPHRASE));
    if (stored === null)
      return err(problem('passphrase', 'one that was set', 'none', 'no-passphrase'));
    const attempts = parseAttempts(await this.#stored(ATTEMPTS));
    const waitMs = this.#waitMs(attempts);
    if (waitMs > 0) return err(problem('passphrase', 'a later attempt', waitMs, 'wait'));
    const failed = attempts.failed + 1;
    // Counted first: closing the page in the middle does not give the attempt back.
    const counted = await this.#keep({ failed, lastWallMs: this.#nowMs() }, o.epoch);
    if (!counted.ok) return counted;
    const isRight = await isPassphrase(crypto, { stored, passphrase: o.passphrase });
    if (!isRight) return err(problem('passphrase', 'the right one', failed, 'wrong-passphrase'));
    await this.#keep(NO_ATTEMPTS, o.epoch);
    return ok(stored.person);
  }

  async #keep(attempts: Attempts, epoch: number): Promise<Result<null, Problem>> {
    const document = { kind: ATTEMPTS, id: THIS_TABLET, value: attempts, epoch };
    const kept = await this.#parts.journal.documents.put(document);
    if (!kept.ok) return kept;
    this.#seen = { attempts, since: this.#parts.clock.stamp() };
    return ok(null);
  }
}

function noCrypto(): Problem {
  const expected = 'an app that was opened over HTTPS';
  return problem('browser', expected, 'no Web Crypto', 'no-crypto');
}
