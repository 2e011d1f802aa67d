/** Lets a case go from one tablet to another, and notices when one that runs here has gone. */
import type { OneByOne } from '../../base/one-by-one.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Refusal } from '../../engine/commands.ts';
import type { JournalNews } from '../../storage/journal-types.ts';
import type { Chair } from '../chair.ts';
import type { runningCase } from '../running-case.ts';
import type { SessionParts } from '../session-parts.ts';
import type { ReadAlong } from '../windows/read-along.ts';
import type { PenTo } from './pen-deeds.ts';
import { SECOND_END } from './second-end-kind.ts';

interface PenHost {
  /** The epoch to write with; null when another window writes. */
  readonly epoch: () => number | null;
  readonly chair: () => Chair | null;
  readonly reading: () => ReadAlong | null;
  readonly run: (o: Parameters<typeof runningCase>[1]) => void;
  readonly leave: () => void;
  /** Ends the drill on the chair, where there is one. */
  readonly endDrill: () => Promise<void>;
  /** Opens one case after the other: none puts down what another has just opened. */
  readonly inTurn: OneByOne;
  readonly resume: (caseId: string) => Promise<Result<null, Problem>>;
  readonly refresh: () => Promise<void>;
}

type Done = Promise<Result<null, Refusal | Problem>>;

/** Wanted when a case goes from one tablet to another, not when the app is. */
const penCode = () => import('./pen-deeds.ts');

const notWriter = (): Problem =>
  problem('window', 'this window to be the one that writes', 'reader', 'not-writer');

export class Pens {
  readonly #parts: SessionParts;
  readonly #host: PenHost;

  constructor(parts: SessionParts, host: PenHost) {
    this.#parts = parts;
    this.#host = host;
  }

  /** Gives the case on the chair up to another tablet. This one looks on from then on. Errors: see `givePen`. */
  async give(to: PenTo): Done {
    const chair = this.#host.chair();
    if (chair === null) return err(notWriter());
    const { givePen } = await penCode();
    const given = await givePen(this.#parts, { chair, to });
    return given.ok ? this.#lookOn(chair) : given;
  }

  /** Goes on with the case of another tablet. Errors: see `takePen`, `patient-runs`, `not-writer`. */
  take(o: { readonly caseId: string; readonly reason?: string }): Done {
    return this.#host.inTurn(() => this.#take(o));
  }

  async #take(o: { readonly caseId: string; readonly reason?: string }): Done {
    const epoch = this.#host.epoch();
    if (epoch === null) return err(notWriter());
    const { patientRuns } = await import('./case-opening.ts');
    const runs = patientRuns(this.#host.chair());
    if (runs !== null) return err(runs);
    const { takePen } = await penCode();
    const reading = this.#host.reading();
    const seenClock = () => (reading?.caseId === o.caseId ? reading.seenClock() : null);
    const taken = await takePen(this.#parts, { ...o, epoch, seenClock });
    if (!taken.ok) return taken;
    if (taken.value.log.state.opened.mode === 'patient') await this.#host.endDrill();
    this.#host.leave();
    this.#host.run(taken.value);
    return ok(null);
  }

  /** A second end of a case was kept, or has more. */
  async #secondEndCame(): Promise<void> {
    const { refresh, reading, resume } = this.#host;
    await refresh();
    const shown = reading();
    if (shown !== null) await resume(shown.caseId);
  }

  /** Hears of second ends, and of entries of another tablet in the case that runs here: it goes on there. */
  async hear(news: JournalNews): Promise<void> {
    if (news.type === 'document' && news.kind === SECOND_END) return this.#secondEndCame();
    const chair = this.#host.chair();
    const epoch = this.#host.epoch();
    if (news.type !== 'entries' || epoch === null || chair?.caseId !== news.caseId) return;
    const { isForeign, keepPressedHere } = await penCode();
    if (!isForeign(chair, news.entries)) return;
    await chair.stored();
    await keepPressedHere(this.#parts, { chair, epoch });
    await this.#lookOn(chair);
  }

  async #lookOn(chair: Chair): Promise<Result<null, Problem>> {
    const { leave, resume } = this.#host;
    // People may have put it down themselves meanwhile.
    if (this.#host.chair() !== chair) return ok(null);
    leave();
    return resume(chair.caseId);
  }
}
