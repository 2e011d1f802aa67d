/**
 * What drills of this tablet hold and came to, and what is kept of them beside their journals, which names nobody
 * who did not want it. Errors of what is worked out: `drill-not-answered`; who asks again is answered anew.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { type DrillAccount, type KindDone, kindsDone } from '../../drill/account.ts';
import type { DrillCourse } from '../../drill/course.ts';
import type { Pair } from '../../drill/pair.ts';
import { isRightInTime } from '../../drill/score.ts';
import type { CaseLog } from '../../engine/log.ts';
import { readCase } from '../read-case.ts';
import type { SessionParts } from '../session-parts.ts';
import { askAccount, askCourse } from './ask-drill.ts';
import { DRILL, type KeptDrill, keptDrills, NO_NOTES } from './drill-document.ts';
import { isOfOneTablet } from './moved-records.ts';

/** What a drill came to, with the case that it was. */
export interface DrillTold {
  readonly account: DrillAccount;
  readonly log: CaseLog;
  readonly kept: KeptDrill | null;
  /** Cards that it can be taken up again for. */
  readonly again: readonly string[];
}

type Parts = Pick<SessionParts, 'journal' | 'planner'>;

export class DrillsTold {
  readonly #parts: Parts;
  /** The epoch to write with; null when another window writes. */
  readonly #epoch: () => number | null;
  /** Of drills of this window, as they were asked for. */
  readonly #courses = new Map<string, Promise<Result<DrillCourse | null, Problem>>>();
  readonly #telling = new Map<string, Promise<Result<DrillTold, Problem>>>();

  constructor(parts: Parts, epoch: () => number | null) {
    this.#parts = parts;
    this.#epoch = epoch;
  }

  /** Knows what a drill holds that was begun here. */
  know(caseId: string, course: DrillCourse): void {
    this.#courses.set(caseId, Promise.resolve(ok(course)));
  }

  /** What a drill holds; null where this version draws something else from its seed. */
  course(caseId: string, log: CaseLog): Promise<Result<DrillCourse | null, Problem>> {
    const known = this.#courses.get(caseId);
    if (known !== undefined) return known;
    const { drill } = log.state.opened;
    if (drill === undefined) return Promise.resolve(ok(null));
    const asked = askCourse(this.#parts.planner, { records: log.records, drill });
    this.#courses.set(caseId, asked);
    void asked.then((found) => {
      if (!found.ok) this.#courses.delete(caseId);
    });
    return asked;
  }

  /** What a drill came to. Errors: `no-such-case`, `drill-untold`, and the journal's. */
  told(caseId: string): Promise<Result<DrillTold, Problem>> {
    const before = this.#telling.get(caseId);
    if (before !== undefined) return before;
    const telling = this.#tell(caseId).finally(() => this.#telling.delete(caseId));
    this.#telling.set(caseId, telling);
    return telling;
  }

  async #tell(caseId: string): Promise<Result<DrillTold, Problem>> {
    const read = await readCase(this.#parts.journal, caseId);
    if (!read.ok) return read;
    const { log } = read.value;
    const asked = await askAccount(this.#parts.planner, log);
    if (!asked.ok) return asked;
    const account = asked.value;
    if (account === null) return err(untold(caseId));
    const kept = await this.#filled(log, account, caseId);
    const again = account.score.cards.flatMap((card) => {
      const { kind, id } = card.shown.card;
      return kind === 'mishap' && !isRightInTime(card) ? [id] : [];
    });
    return ok({ account, log, again: isOfOneTablet(log.records) ? again : [], kept });
  }

  /** Every drill that is kept here, the oldest first. */
  async kept(): Promise<readonly KeptDrill[]> {
    const kept = await keptDrills(this.#parts.journal);
    return kept.ok ? kept.value : [];
  }

  /** What is kept of one drill; null where nothing is. */
  async keptOf(caseId: string): Promise<KeptDrill | null> {
    return (await this.kept()).find((k) => k.caseId === caseId) ?? null;
  }

  /** Keeps a drill that was closed. Errors: the journal's. */
  async keep(
    log: CaseLog,
    o: {
      readonly caseId: string;
      readonly epoch: number;
      readonly pair: Pair | null;
      readonly kinds: readonly KindDone[];
    },
  ): Promise<Result<null, Problem>> {
    const { caseId, epoch, pair, kinds } = o;
    const { drill, protocolHash } = log.state.opened;
    const closing = log.records.findLast(({ event }) => event.type === 'case-closed');
    if (drill === undefined || closing === undefined) return ok(null);
    const value: KeptDrill = {
      caseId,
      seed: drill.seed,
      protocolHash,
      ...(pair === null ? {} : { pair }),
      atWallMs: closing.stamp.wallMs,
      ...(drill.again === undefined ? {} : { again: drill.again }),
      kinds,
      notes: NO_NOTES,
    };
    return this.put(value, epoch);
  }

  /** Errors: the journal's. */
  async put(value: KeptDrill, epoch: number): Promise<Result<null, Problem>> {
    const { documents } = this.#parts.journal;
    const put = await documents.put({ kind: DRILL, id: value.caseId, value, epoch });
    return put.ok ? ok(null) : put;
  }

  /** What is kept of a drill, with the kinds that it counts for, which are not known when it is ended. */
  async #filled(log: CaseLog, account: DrillAccount, caseId: string): Promise<KeptDrill | null> {
    const kept = await this.keptOf(caseId);
    const kinds = kindsDone(account);
    const epoch = this.#epoch();
    if (epoch === null || (kept !== null && (kept.kinds.length > 0 || kinds.length === 0))) {
      return kept;
    }
    if (kept === null) await this.keep(log, { caseId, epoch, pair: null, kinds });
    else await this.put({ ...kept, kinds }, epoch);
    return this.keptOf(caseId);
  }
}

export const untold = (caseId: string): Problem =>
  problem(`case ${caseId}`, 'a drill that this version draws alike', 'another', 'drill-untold');
