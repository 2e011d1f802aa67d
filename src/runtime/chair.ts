/**
 * Runs one case: takes presses, writes them, and keeps the picture up to date. A press is decided
 * at once against everything pressed so far, handed to the journal, and shown when the journal has
 * it; if the journal is slower than {@link SHOW_AFTER_MS} the picture goes on without it and the
 * status says that it is not saved. Only one timer waits: for the next change that the engine
 * foretells, or for the next figure that turns over, whichever comes first.
 */
import { InvariantError } from '../base/assert.ts';
import { barAct } from '../engine/attention.ts';
import type { Command, Refusal } from '../engine/commands.ts';
import { decide } from '../engine/decide.ts';
import type { LineDraft } from '../engine/list-draft.ts';
import { type CaseLog, extend, presses, recordPress } from '../engine/log.ts';
import type { ListLine } from '../engine/pressing-types.ts';
import type { CaseEvent, NotedCause, Recorded, Stamp } from '../engine/types.ts';
import { viewOf } from '../engine/view.ts';
import type { View } from '../engine/view-types.ts';
import type { Journal, JournalEntry } from '../storage/journal-types.ts';
import { tellReadBack } from '../words/read-back-words.ts';
import { toldLog } from '../words/told-protocol.ts';
import type { Fault, RunningCase } from './app-state.ts';
import { CaseKeeper } from './cases/case-keeper.ts';
import { ListAnswers } from './cases/list-answers.ts';
import { PassTicks } from './cases/pass-ticks.ts';
import type { AlarmTimer } from './device/alarm-timer.ts';
import type { AcceleratedClock } from './device/clock.ts';
import type { TimerHost } from './device/timer-host.ts';
import { nextPaintMs } from './paint-pace.ts';

/** A press that takes longer to store than this is shown all the same, as not saved. */
const SHOW_AFTER_MS = 300;
/** Undo is offered this long after a press. */
const UNDO_OFFERED_MS = 10_000;
/** Two pictures of running figures are at least a frame apart, in real ms. */
const PAINT_GAP_MS = 16;
/** After a picture that could not be made. In real ms. */
const TRY_AGAIN_MS = 1000;
/**
 * A press that follows so soon on a turn of the bar was meant for what stood there before, in real ms: the slow
 * end of perceive, decide and move, 200 + 170 + 100 ms (Card, Moran & Newell, The Psychology of
 * Human-Computer Interaction, 1983; from memory).
 */
export const MEANT_BEFORE_MS = 470;
/** At speed every picture has another figure; so many are enough. In real ms. */
const PAINT_FAST_GAP_MS = 100;

type BarAct = ReturnType<typeof barAct>;

/** Whether nobody has pressed anything since: the app itself notes who hears the tones. */
const isSameWork = (before: CaseLog | null, log: CaseLog): boolean =>
  before !== null &&
  log.records.slice(before.records.length).every(({ event }) => event.type === 'tones-heard');

const isPassImplied = (event: CaseEvent): boolean =>
  event.type === 'light-pass-confirmed' && event.impliedBy !== undefined;

const kindOf = (act: BarAct) => (act?.command.do === 'press' ? act.command.offer.kind : undefined);

interface ChairParts {
  readonly journal: Pick<Journal, 'append' | 'adopt' | 'heartbeat'>;
  readonly epoch: number;
  readonly clock: AcceleratedClock;
  readonly alarm: AlarmTimer;
  readonly timers: TimerHost;
  readonly realNowMs: () => number;
  /** Called with every new picture. */
  readonly onPicture: (running: RunningCase) => void;
  readonly onFault: (fault: Fault) => void;
}

export class Chair {
  readonly #parts: ChairParts;
  readonly #keeper: CaseKeeper;
  readonly #caseId: string;
  /** Everything pressed, stored or not: what the next press is decided against. */
  #ahead: CaseLog;
  /** What the screen shows. */
  #shown: CaseLog;
  #by: string;
  #pending = 0;
  #refusal: Refusal | null = null;
  /** What was typed for a step and is to stand in its press. */
  #typed: { readonly step: string; readonly evidence: string } | null = null;
  readonly #answers = new ListAnswers();
  readonly #ticks = new PassTicks();
  #undo: RunningCase['undo'] = null;
  /** When each press of this run was made, by the page's own clock. */
  readonly #pressedRealMs = new Map<number, number>();
  /** Whether the journal refused a press and has not taken it since. */
  #isRefused = false;
  /** What the bar shows, since when, and what it showed before when time alone has turned it over. */
  #bar: { readonly act: BarAct; readonly sinceMs: number; readonly before: BarAct } = {
    act: null,
    sinceMs: 0,
    before: null,
  };
  #barLog: CaseLog | null = null;
  #isStopped = false;
  /** Resolves once what was pressed last is stored, or refused. */
  #storing: Promise<void> = Promise.resolve();
  readonly #forgetAlarm: () => void;

  constructor(
    parts: ChairParts,
    start: { caseId: string; log: CaseLog; by: string; stored: readonly JournalEntry[] },
  ) {
    const { journal, epoch } = parts;
    const { caseId, stored } = start;
    this.#parts = parts;
    this.#keeper = new CaseKeeper({ journal, caseId, epoch, stored });
    this.#caseId = start.caseId;
    this.#ahead = start.log;
    this.#shown = start.log;
    this.#by = start.by;
    this.#forgetAlarm = parts.alarm.onFire(() => this.refresh());
  }

  get caseId(): string {
    return this.#caseId;
  }

  /** The log with all presses, also those that are still being stored. */
  get log(): CaseLog {
    return this.#ahead;
  }

  /** Everything that this page holds of the case, chained: for a file while the journal takes none. */
  get entries(): readonly JournalEntry[] {
    return this.#keeper.entries;
  }

  /** How many of them the journal has. */
  get storedCount(): number {
    return this.#ahead.records.length - this.#keeper.unsaved;
  }

  /** Waits until the journal has taken or refused what was pressed last. */
  stored(): Promise<void> {
    return this.#storing;
  }

  start(): void {
    this.refresh();
  }

  stop(): void {
    this.#isStopped = true;
    this.#parts.alarm.cancel();
    this.#forgetAlarm();
  }

  setBy(person: string): void {
    this.#by = person;
    this.refresh();
  }

  /** Keeps what is typed for a step, so that its press carries it, whichever key presses. */
  keepTyped(typed: { readonly step: string; readonly evidence: string } | null): void {
    const before = this.#typed?.step;
    this.#typed = typed;
    // What the bar says depends on whether its answer is there.
    if (before !== typed?.step) this.refresh();
  }

  /** Keeps a tick or an answer of a line of a list, so that the press of the list takes it. */
  keepLine(line: Pick<ListLine, 'step' | 'subjects'>, draft: LineDraft): void {
    this.#answers.keep(line, draft);
    this.refresh();
  }

  /** Unticks a place of the pass of light that waits to be confirmed, or ticks it again. */
  turnPlace(id: string): void {
    this.#ticks.turn(id);
    this.refresh();
    // Whoever unticks a place has turned the bar over by hand.
    this.#bar = { ...this.#bar, before: null };
  }

  /** The picture of everything pressed, with what is ticked. */
  #viewAhead(): View {
    return this.#ticks.shown(viewOf(this.#ahead.state, this.#parts.clock.stamp()));
  }

  /** Carries out a command now. A refusal stays on the screen until the next press. */
  do(command: Command): Refusal | null {
    const stamp = this.#parts.clock.stamp();
    // What is read aloud is recorded as it was read, in the language of the app.
    const decided = decide(toldLog(this.#ahead), this.#whole(command), stamp, tellReadBack);
    if (!decided.ok) {
      this.#refusal = decided.error;
      this.refresh();
      return decided.error;
    }
    // A later press would confirm the whole pass of light: what is ticked is confirmed before it.
    if (!this.#ticks.areAll && decided.value.some(isPassImplied)) {
      const offer = this.#viewAhead().offers.find(({ kind }) => kind === 'pass-confirm');
      if (offer) return this.do({ do: 'press', offer }) ?? this.do(command);
    }
    this.#refusal = null;
    const isOwn = command.do !== 'note-gap' && command.do !== 'note-tones';
    this.#take({ events: decided.value, stamp, by: isOwn ? this.#by : null });
    return null;
  }

  /** The command with what was typed, ticked and answered for it. */
  #whole(command: Command): Command {
    const typed = this.#typed;
    if (command.do === 'press' && command.offer.kind === 'list') {
      return this.#answers.filled(command);
    }
    if (command.do !== 'press' || command.evidence !== undefined || !typed) return command;
    return command.offer.step === typed.step ? { ...command, evidence: typed.evidence } : command;
  }

  /**
   * What the bar shows, or has shown until a moment ago when it turned over by itself; when all is done,
   * closing the case. What cannot be done any more is refused.
   */
  pressNext(): Refusal | null {
    const { state } = this.#ahead;
    const meant = this.#meant();
    if (meant) return this.do(meant.command);
    if (viewOf(state, this.#parts.clock.stamp()).finished && !state.closed) {
      const person = state.opened.spec.people.find((p) => p.id === this.#by);
      return this.do({ do: 'close', by: this.#by, role: person?.role ?? 'assistant' });
    }
    return null;
  }

  /** What a press of the bar means. */
  #meant(): BarAct {
    // A press that is not shown yet has changed what there is to do: the bar is read anew.
    if (!isSameWork(this.#barLog, this.#ahead)) {
      return barAct(this.#viewAhead().attention);
    }
    const { act, before, sinceMs } = this.#bar;
    const isFresh = this.#parts.realNowMs() - sinceMs < MEANT_BEFORE_MS;
    return isFresh && before !== null ? before : act;
  }

  /** Keeps what the bar shows now, and whether time alone has turned it over. */
  #keepBar(log: CaseLog, act: BarAct): void {
    const { act: shown } = this.#bar;
    if (isSameWork(this.#barLog, log) && shown?.id === act?.id) {
      this.#bar = { ...this.#bar, act };
      this.#barLog = log;
      return;
    }
    // The light that has had its time is moved on: both presses end the same exposure.
    const isLightDone = kindOf(shown) === 'light-off' && kindOf(act) === 'light-move';
    const isTurn = isSameWork(this.#barLog, log) && !isLightDone;
    const sinceMs = this.#parts.realNowMs();
    this.#bar = { act, sinceMs, before: isTurn ? shown : null };
    this.#barLog = log;
  }

  /** The clocks disagreed, or a run ended: keep it in the log. */
  noteGap(gap: { before: Stamp; after: Stamp; cause: NotedCause }): void {
    this.do({ do: 'note-gap', ...gap });
  }

  beat(stamp: Stamp): void {
    // A lost heartbeat only widens an interval after a crash; the next one is a second away.
    void this.#parts.journal.heartbeat(this.#caseId, stamp);
  }

  /** Makes the picture of this instant and sets the one timer for the next change. */
  refresh(): void {
    if (this.#isStopped) return;
    const { clock, alarm, onPicture, onFault } = this.#parts;
    const madeAtRealMs = this.#parts.realNowMs();
    const now = clock.stamp();
    try {
      const log = toldLog(this.#shown);
      const view = this.#ticks.shown(viewOf(log.state, now));
      this.#keepBar(this.#shown, barAct(view.attention));
      onPicture({
        caseId: this.#caseId,
        log,
        view,
        now,
        madeAtRealMs,
        pending: this.#pending,
        unsaved: this.#isRefused ? this.#keeper.unsaved : 0,
        undo: this.#undo,
        refusal: this.#refusal,
        speed: clock.speed as RunningCase['speed'],
        by: this.#by,
        typed: this.#typed?.step ?? null,
        answers: this.#answers.drafts,
        isViewOnly: false,
        isStale: false,
      });
      alarm.arm(this.#nextPictureMs(view));
    } catch (error) {
      // The last good picture stays; the people keep their clocks and are told.
      onFault({ kind: 'broken', line: error instanceof Error ? error.message : String(error) });
      alarm.arm(TRY_AGAIN_MS);
    }
  }

  #take(press: { events: readonly CaseEvent[]; stamp: Stamp; by: string | null }): void {
    const batch = recordPress({ log: this.#ahead, ...press });
    const [first] = batch;
    if (first) this.#pressedRealMs.set(first.press, this.#parts.realNowMs());
    try {
      this.#ahead = extend(this.#ahead, batch);
    } catch (error) {
      if (!(error instanceof InvariantError)) throw error;
      this.#parts.onFault({ kind: 'broken', line: error.message });
      return;
    }
    this.#pending += 1;
    if (first) this.#answers.note(first.press, press.events);
    if (first) this.#ticks.note(first.press, press.events);
    if (this.#ahead.state.lightPass === null) this.#ticks.clear();
    this.refresh();
    this.#storing = this.#store(batch, this.#ahead);
  }

  async #store(batch: readonly Recorded[], next: CaseLog): Promise<void> {
    const { timers, onFault } = this.#parts;
    const show = () => {
      if (next.records.length <= this.#shown.records.length) return;
      this.#shown = next;
      this.#offerUndo();
      this.refresh();
    };
    const cancel = timers.after(SHOW_AFTER_MS, show);
    const stored = await this.#keeper.store(batch);
    cancel();
    this.#pending -= 1;
    this.#isRefused = !stored.ok;
    if (!stored.ok) {
      const { code, place, expected, came } = stored.error;
      onFault({ kind: 'journal', code, line: `${place}: expected ${expected}, got ${came}` });
      show();
      this.refresh();
      return;
    }
    show();
    this.refresh();
  }

  /** The newest press that counts can be taken back until ten real seconds after it was made. */
  #offerUndo(): void {
    const press = presses(this.#shown).at(-1);
    this.#undo =
      press === undefined
        ? null
        : { press, untilRealMs: this.#pressedAtRealMs(press) + UNDO_OFFERED_MS };
  }

  /**
   * When a press was made. Of one that an earlier run of the page took, the wall clock tells; a stamp
   * that lies ahead, as of a rehearsal at speed, tells nothing, and the press counts as an old one.
   */
  #pressedAtRealMs(press: number): number {
    const known = this.#pressedRealMs.get(press);
    if (known !== undefined) return known;
    const { clock, realNowMs } = this.#parts;
    const made = this.#shown.records.find((r) => r.press === press)?.stamp.wallMs;
    const ageMs = made === undefined ? Infinity : clock.stamp().wallMs - made;
    return ageMs < 0 ? Number.NEGATIVE_INFINITY : realNowMs() - ageMs;
  }

  /** Real time until the picture is another one, though nobody presses. */
  #nextPictureMs(view: View): number {
    const { clock, realNowMs } = this.#parts;
    const undoLeftMs = this.#undo ? this.#undo.untilRealMs - realNowMs() : 0;
    const gapMs = clock.speed === 1 ? PAINT_GAP_MS : PAINT_FAST_GAP_MS;
    const paintMs = nextPaintMs(view, {
      undoLeftMs: Math.max(0, undoLeftMs) * clock.speed,
      gapMs: gapMs * clock.speed,
    });
    const changeMs = view.nextChangeInMs ?? paintMs;
    return Math.ceil(clock.toRealDelayMs(Math.min(changeMs, paintMs)));
  }
}
