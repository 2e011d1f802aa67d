/** How a drill of this window begins: drawn for a prepared case, or taken up again before one of its cards. */
import type { OneByOne } from '../../base/one-by-one.ts';
import type { Problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { DrillCourse } from '../../drill/course.ts';
import type { Refusal } from '../../engine/commands.ts';
import type { Drilled } from '../../engine/drilled-types.ts';
import { replay } from '../../engine/log.ts';
import type { Recorded } from '../../engine/types.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Mishap } from '../../protocol/types.ts';
import { tellReadBack } from '../../words/read-back-words.ts';
import type { Chair } from '../chair.ts';
import { caseClock, type runningCase } from '../running-case.ts';
import {
  notWriter,
  openingCode,
  openingPlace,
  type SessionParts,
  unknownProtocol,
} from '../session-parts.ts';
import { askCourse, drawDrill } from './ask-drill.ts';
import { type DrillsTold, untold } from './drills-told.ts';
import { inOneRun, movedToNow } from './moved-records.ts';

/** The chair that a drill is put on. */
export interface DrillsChair {
  /** The epoch to write with; null when another window writes. */
  readonly epoch: () => number | null;
  readonly chair: () => Chair | null;
  /** Opens one case after the other: none puts down what another has just opened. */
  readonly inTurn: OneByOne;
  readonly run: (o: Parameters<typeof runningCase>[1]) => void;
  readonly leave: () => void;
}

/** The id of its case. */
export type Begun = Result<string, Problem | Refusal>;

/** A drill is taken up again so long before its card. */
const AGAIN_BEFORE_MS = 20_000;
/** As many as a seed has that is typed in a terminal. */
const SEED_BITS = 31;

const seedFrom = (random: Uint32Array): number => (random[0] ?? 0) >>> (32 - SEED_BITS);

export class DrillsBegun {
  readonly #parts: SessionParts;
  readonly #host: DrillsChair;
  readonly #memory: DrillsTold;

  constructor(parts: SessionParts, host: DrillsChair, memory: DrillsTold) {
    this.#parts = parts;
    this.#host = host;
    this.#memory = memory;
  }

  /**
   * Draws a drill of a prepared case and begins it: one tap. Errors: `not-writer`, `unknown-protocol`,
   * `patient-runs`, `patient-open`, `drill-not-answered`, those of opening a case, and the journal's.
   */
  async begin(spec: CaseFile, due: () => Promise<readonly Mishap[]>): Promise<Begun> {
    const { store, shipped, planner } = this.#parts;
    const entry = store.getState().protocols.find((p) => p.protocol.id === spec.protocol);
    if (!entry) return err(unknownProtocol(spec.protocol));
    const may = await this.#mayBegin();
    if (!may.ok) return may;
    const { protocol, hash: protocolHash } = entry;
    const toward = (await due()).filter((kind) =>
      protocol.waysBack.some(({ mishap }) => mishap === kind),
    );
    const seed = seedFrom(globalThis.crypto.getRandomValues(new Uint32Array(1)));
    const document = { spec, protocol, protocolHash };
    const asked = await drawDrill(planner, { ...document, tables: shipped.tables, seed, toward });
    if (!asked.ok) return asked;
    if (asked.value.found === 'refused') return err(asked.value.refusal);
    const { plan, drawn, records } = asked.value;
    const drill: Drilled = { seed, toward, beginsAtMs: drawn.beginsAtMs };
    const drilled = { ...document, plan, tell: tellReadBack };
    return this.#open({ drill, records, course: { drill, drilled, plan: drawn, drawn } });
  }

  /** Takes a drill up again from 20 s before a card. Errors: as above, `drill-untold`. */
  async again(caseId: string, card: string): Promise<Begun> {
    const may = await this.#mayBegin();
    if (!may.ok) return may;
    const told = await this.#memory.told(caseId);
    if (!told.ok) return told;
    const { account, log, again } = told.value;
    const own = account.score.cards.find(({ shown }) => shown.card.id === card);
    if (own === undefined || !again.includes(card)) return err(untold(caseId));
    const beginsAtMs = Math.max(0, own.shown.shownAtMs - AGAIN_BEFORE_MS);
    const drill: Drilled = { ...account.course.drill, beginsAtMs, again: card };
    const records = inOneRun(log.records);
    const course = await askCourse(this.#parts.planner, { records, drill });
    if (!course.ok) return course;
    if (course.value === null) return err(untold(caseId));
    return this.#open({ drill, records, course: course.value });
  }

  /** Opens it where nothing else is being opened: what was asked before may not hold any more. */
  #open(o: {
    readonly drill: Drilled;
    readonly records: readonly Recorded[];
    readonly course: DrillCourse;
  }): Promise<Begun> {
    return this.#host.inTurn(async (): Promise<Begun> => {
      const may = await this.#mayBegin();
      if (!may.ok) return may;
      const { journal, clock, newId, store } = this.#parts;
      const { drill } = o;
      const epoch = may.value;
      const caseId = newId();
      const nowWallMs = clock.stamp().wallMs;
      const ownClock = caseClock(this.#parts, {
        speed: 1,
        startWallMs: nowWallMs,
        startMonoMs: drill.beginsAtMs,
      });
      const { runId } = ownClock.stamp();
      const place = openingPlace(store.getState().settings);
      const recorded = movedToNow({ records: o.records, drill, place, runId, nowWallMs });
      const stored = await journal.append({ caseId, epoch, recorded });
      if (!stored.ok) return err(stored.error);
      this.#host.leave();
      this.#memory.know(caseId, o.course);
      const log = replay(recorded);
      const by = log.state.opened.spec.people[0]?.id ?? '';
      this.#host.run({ caseId, log, by, clock: ownClock, epoch, stored: stored.value.entries });
      return ok(caseId);
    });
  }

  /** The epoch to write with. Errors: `not-writer`, `patient-runs`, `patient-open`, and the journal's. */
  async #mayBegin(): Promise<Result<number, Problem>> {
    const { patientOpen, patientRuns } = await openingCode();
    const { journal, store } = this.#parts;
    const epoch = this.#host.epoch();
    if (epoch === null) return err(notWriter(store.getState()));
    const runs = patientRuns(this.#host.chair());
    const inTheWay = runs ?? (await patientOpen(journal, store.getState().settings.tablet));
    return inTheWay === null ? ok(epoch) : err(inTheWay);
  }
}
