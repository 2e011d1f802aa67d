/**
 * Drills of this window, one door to all of them: begins one, follows it, ends it, tells what it came to, and keeps of
 * it what readiness is made of. The journal of a drill alone says what it was; what is kept beside it names the pair that wanted to be named.
 */

import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { DrillCourse } from '../../drill/course.ts';
import { isSamePair, type Pair } from '../../drill/pair.ts';
import { dueKinds, type KindStanding, readinessOf } from '../../drill/readiness.ts';
import { isRightInTime } from '../../drill/score.ts';
import type { Refusal } from '../../engine/commands.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Mishap } from '../../protocol/types.ts';
import { timesIn } from '../../words/date-words.ts';
import { languageTag } from '../../words/language.ts';
import { dayIn } from '../../words/zone.ts';
import type { CasesList } from '../cases/cases-list.ts';
import type { Chair } from '../chair.ts';
import { factDocument } from '../facts/fact.ts';
import type { FactParts } from '../facts/fact-writer.ts';
import type { LeadDesk } from '../lead/lead.ts';
import { readCase } from '../read-case.ts';
import type { Readable } from '../readable.ts';
import { notWriter, type SessionParts } from '../session-parts.ts';
import { DRILL, type DrillNotes, type KeptDrill } from './drill-document.ts';
import {
  type DrillPeople,
  isSharing,
  kindsOf,
  namedPair,
  pairsWith,
  readDrillPeople,
  Sitting,
  share,
  unname,
} from './drill-people.ts';
import { type Begun, DrillsBegun, type DrillsChair } from './drills-begun.ts';
import { DrillsTold, type DrillTold, untold } from './drills-told.ts';
import { pruneDrills } from './prune-drills.ts';

const DAY_ZERO = '1970-01-01';
export interface DrillsHost extends DrillsChair {
  readonly desk: () => Promise<LeadDesk>;
  readonly refresh: () => Promise<void>;
}

/** The own page of somebody. */
export interface OwnDrills {
  /** By the name of the other. */
  readonly pairs: readonly Pair[];
  /** What others see where it is shared. */
  readonly kinds: readonly Mishap[];
  readonly isShared: boolean;
}

/** Kinds of documents that the pages of drills are made of. */
const TOLD_HERE: ReadonlySet<string> = new Set([
  DRILL,
  factDocument('outcome-review'),
  factDocument('lead-log'),
]);

export class Drills {
  readonly #parts: SessionParts;
  readonly #host: DrillsHost;
  readonly #sitting: Sitting;
  readonly #heard: StoreApi<{ readonly times: number }> = createStore(() => ({ times: 0 }));
  readonly #memory: DrillsTold;
  readonly #begun: DrillsBegun;
  #ending: {
    readonly chair: Chair;
    readonly ended: Promise<Result<null, Problem | Refusal>>;
  } | null = null;

  constructor(parts: SessionParts, host: DrillsHost) {
    this.#parts = parts;
    this.#host = host;
    this.#memory = new DrillsTold(parts, host.epoch);
    this.#begun = new DrillsBegun(parts, host, this.#memory);
    this.#sitting = new Sitting(() => parts.clock.stamp());
    parts.journal.subscribe((news) => {
      if (news.type === 'document' && TOLD_HERE.has(news.kind)) {
        this.#heard.setState(({ times }) => ({ times: times + 1 }));
      }
    });
  }

  /** Changes when another window or tablet said something that pages of drills tell: a withdrawal, a signature, a drill. */
  get heard(): Readable<{ readonly times: number }> {
    return this.#heard;
  }

  /** Who named themselves in this sitting; null where nobody did, and some time after the last drill. */
  get pair(): Pair | null {
    return this.#sitting.pair;
  }

  /** Names who drills in this sitting, or nobody. Error: `too-long`. */
  name(names: Pair): Result<Pair | null, Problem> {
    const pair = namedPair(names);
    if (pair.ok) this.#sitting.name(pair.value);
    return pair;
  }

  /** Draws a drill of a prepared case, toward what is due, and begins it: one tap. Errors: see {@link DrillsBegun}. */
  begin(spec: CaseFile): Promise<Begun> {
    const due = async () => dueKinds(await this.standings(this.pair));
    return this.#begun.begin(spec, due);
  }

  /** Takes a drill up again from 20 s before a card. Errors: see {@link DrillsBegun}. */
  again(caseId: string, card: string): Promise<Begun> {
    return this.#begun.again(caseId, card);
  }

  /** What a running drill holds. Errors: those of {@link DrillsTold}. */
  course(caseId: string, log: CaseLog): Promise<Result<DrillCourse | null, Problem>> {
    return this.#memory.course(caseId, log);
  }

  /** Ends the drill on the chair, wherever it stands, and keeps that it was. Errors: the journal's, `not-stored`. */
  end(): Promise<Result<null, Problem | Refusal>> {
    const chair = this.#host.chair();
    const epoch = this.#host.epoch();
    if (chair === null || epoch === null || chair.log.state.opened.drill === undefined) {
      return Promise.resolve(ok(null));
    }
    if (this.#ending?.chair === chair) return this.#ending.ended;
    const ended = this.#end(chair, epoch).finally(() => {
      this.#ending = null;
    });
    this.#ending = { chair, ended };
    return ended;
  }

  async #end(chair: Chair, epoch: number): Promise<Result<null, Problem | Refusal>> {
    if (chair.log.state.closed === null) {
      const person = chair.log.state.opened.spec.people[0];
      const refused = chair.do({
        do: 'close',
        by: person?.id ?? '',
        role: person?.role ?? 'assistant',
      });
      if (refused !== null) return err(refused);
    }
    await chair.stored();
    const { caseId, log, storedCount } = chair;
    if (storedCount < log.records.length) return err(notStored(caseId));
    const { pair } = this;
    // Who drilled a moment ago sits there still.
    this.#sitting.name(pair);
    const kept = await this.#memory.keep(log, { caseId, epoch, pair, kinds: [] });
    // Somebody may have opened another case meanwhile.
    if (this.#host.chair() === chair) this.#host.leave();
    // What it came to takes a moment longer, and nobody who opens a patient's case waits for it.
    void this.told(caseId);
    return kept;
  }

  /** What a drill came to. Errors: those of {@link DrillsTold}. */
  told(caseId: string): Promise<Result<DrillTold, Problem>> {
    return this.#memory.told(caseId);
  }

  /** Every drill that is kept here, the oldest first. */
  kept(): Promise<readonly KeptDrill[]> {
    return this.#memory.kept();
  }

  /**
   * Days of today and of what was done, whole days of the clinic's calendar since 1970.
   * @param of the drills of this pair; all that are kept here where it is null.
   */
  async standings(of: Pair | null = null): Promise<readonly KindStanding[]> {
    const { zone } = this.#parts.store.getState().settings;
    const { daysFrom } = timesIn({ zone, language: languageTag() });
    const dayOf = (ms: number): number => daysFrom(DAY_ZERO, ms);
    const done = (await this.kept()).flatMap(({ atWallMs, kinds, again, pair }) =>
      // What was taken up again was expected.
      again !== undefined || (of !== null && !isSamePair(pair, of))
        ? []
        : kinds.map((kind) => ({
            mishap: kind.mishap,
            day: dayOf(atWallMs),
            isRight: isRightInTime(kind),
          })),
    );
    return readinessOf(done, dayOf(this.#parts.clock.stamp().wallMs));
  }

  /** Who signed, and who lets others see what they practised. */
  async people(): Promise<DrillPeople> {
    return readDrillPeople(this.#parts.journal, await this.kept());
  }

  /** What is shown to somebody who gives the own name. */
  async own(person: string): Promise<OwnDrills> {
    const kept = await this.kept();
    const isShared = await isSharing(this.#parts.journal, person);
    return { pairs: pairsWith(person, kept), kinds: kindsOf(person, kept), isShared };
  }

  /** Lets others see which kinds somebody practised, or withdraws it. Errors: those of `share` in `drill-people.ts`. */
  share(o: {
    readonly person: string;
    readonly isShared: boolean;
  }): Promise<Result<null, Problem>> {
    const { journal, clock, store } = this.#parts;
    const { tablet, zone } = store.getState().settings;
    const nowWallMs = (): number => clock.stamp().wallMs;
    const facts: FactParts = { journal, epoch: this.#host.epoch, tablet: () => tablet, nowWallMs };
    return share(facts, { ...o, onDay: dayIn(nowWallMs(), zone) });
  }

  /** Takes the names out of all drills that somebody did. Errors: `not-writer`, and the journal's. */
  async unname(person: string): Promise<Result<number, Problem>> {
    const { journal, store } = this.#parts;
    const epoch = this.#host.epoch();
    if (epoch === null) return err(notWriter(store.getState()));
    return unname({ journal, epoch }, { person, kept: await this.kept() });
  }

  /** Keeps who did a drill, or nobody; they are the pair of this sitting then. Errors: `too-long`, `not-writer`, and the journal's. */
  async nameDrill(caseId: string, names: Pair): Promise<Result<Pair | null, Problem>> {
    const epoch = this.#host.epoch();
    if (epoch === null) return err(notWriter(this.#parts.store.getState()));
    const before = await this.#memory.keptOf(caseId);
    if (before === null) return err(untold(caseId));
    const named = this.name(names);
    if (!named.ok) return named;
    const { pair: _, ...rest } = before;
    const value: KeptDrill = named.value === null ? rest : { ...rest, pair: named.value };
    const put = await this.#memory.put(value, epoch);
    return put.ok ? named : put;
  }

  /** Kinds that were met in a drill on this tablet before the one that runs. */
  async met(): Promise<ReadonlySet<Mishap>> {
    return new Set((await this.kept()).flatMap(({ kinds }) => kinds.map(({ mishap }) => mishap)));
  }

  /**
   * Keeps what people noted after a drill. What would make it easier goes to the lead as well, once for each
   * wording. Errors: `not-writer`, and the journal's.
   */
  async note(caseId: string, notes: DrillNotes): Promise<Result<null, Problem>> {
    const { journal, store } = this.#parts;
    const epoch = this.#host.epoch();
    if (epoch === null) return err(notWriter(store.getState()));
    const before = await this.#memory.keptOf(caseId);
    if (before === null) return err(untold(caseId));
    const value: KeptDrill = { ...before, notes };
    const put = await this.#memory.put(value, epoch);
    if (!put.ok) return put;
    const words = notes.easier.trim();
    if (words === '' || words === before.notes.easier.trim()) return ok(null);
    const read = await readCase(journal, caseId);
    const protocol = read.ok ? read.value.log.state.opened.protocol.title : '';
    const desk = await this.#host.desk();
    return desk.drills.note({ protocol, seed: before.seed, words });
  }

  /** After twelve months the journals of drills go, and names and notes with them; what they came to stays. */
  async prune(list: Pick<CasesList, 'refresh'>): Promise<void> {
    const epoch = this.#host.epoch();
    if (epoch === null) return;
    const running = this.#host.chair()?.caseId ?? null;
    const gone = await pruneDrills(this.#parts, { epoch, kept: await this.kept(), running });
    if (gone === 0) return;
    await list.refresh();
    await this.#host.refresh();
  }
}

const notStored = (caseId: string): Problem =>
  problem(`case ${caseId}`, 'every press in the journal', 'some that it refused', 'not-stored');
