/**
 * Carries out a script of timed presses on a case, as the chair would: the same commands, the same
 * record. Two invented clocks follow the script, so sleeps, reloads and moved clocks can be part of
 * it. Times in ms; `at` is what a watch in the room would show since the opening.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { monoMs, wallMs } from '../base/units.ts';
import type { Command, Refusal } from '../engine/commands.ts';
import { decide, decideOpening } from '../engine/decide.ts';
import { layoutOf } from '../engine/layout.ts';
import { type CaseLog, extend, recordPress } from '../engine/log.ts';
import type { TellReadBack } from '../engine/read-back.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { CaseEvent, Stamp } from '../engine/types.ts';
import { viewOf } from '../engine/view.ts';
import type { Cue, Offer, View } from '../engine/view-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import { nextMove } from './follow.ts';
import type { PlacedRow, Script } from './parse-script.ts';
import { commandOf } from './script-commands.ts';
import { scriptMs } from './script-time.ts';

interface RehearsalInput {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly protocolHash: string;
  readonly plan: RunPlan;
  readonly script: Script;
  /** What the wall clock shows at the opening. */
  readonly startWallMs: number;
  /** Puts into words what a press records as read aloud. */
  readonly tell: TellReadBack;
}

/** A press that the engine refused carries the refusal, so that it can be put into words. */
export type RehearsalProblem = Problem & { readonly refusal?: Refusal };

/** A cue that came due before what it was for ended, or that is still to come. */
interface RehearsedCue {
  readonly cue: Cue;
  /** On the case axis: targets by the shortest, maxima by the longest elapsed time. */
  readonly dueAtMs: number;
  readonly hasSounded: boolean;
}

export interface Rehearsal {
  readonly log: CaseLog;
  /** What the clocks show at the end. */
  readonly now: Stamp;
  /** The picture at the end: progress and agenda. */
  readonly view: View;
  readonly cues: readonly RehearsedCue[];
  /** Presses of people on work, by stage, in the order of the protocol; corrections apart. */
  readonly pressesByStage: Readonly<Record<string, number>>;
  readonly presses: number;
  readonly endedAtMs: number;
}

/** A script that follows presses no more than this: a case that does not end is a fault. */
const FOLLOWED_MAX = 20_000;

interface Device {
  readonly trueMs: number;
  readonly wallMs: number;
  readonly monoMs: number;
  readonly run: number;
}

const stampOf = (d: Device): Stamp => ({
  wallMs: wallMs(d.wallMs),
  monoMs: monoMs(d.monoMs),
  runId: `rehearsal-${d.run}`,
});

/** Lets time pass for both clocks. */
const passed = (d: Device, ms: number): Device => ({
  ...d,
  trueMs: d.trueMs + ms,
  wallMs: d.wallMs + ms,
  monoMs: d.monoMs + ms,
});

/** Runs a script once; made for one call of {@link rehearse}. */
class Runner {
  readonly #input: RehearsalInput;
  readonly #cues = new Map<string, RehearsedCue>();
  #device: Device;
  #log: CaseLog;
  #presses = 0;
  readonly #byStage = new Map<string, number>();

  constructor(input: RehearsalInput, opening: readonly CaseEvent[]) {
    this.#input = input;
    this.#device = { trueMs: 0, wallMs: input.startWallMs, monoMs: 0, run: 1 };
    const { spec, script } = input;
    const by = script.by ?? spec.people[0]?.id ?? null;
    const batch = recordPress({ log: null, events: opening, stamp: this.#stamp, by });
    this.#log = extend(null, batch);
    for (const { id } of input.protocol.stages) this.#byStage.set(id, 0);
    // Whoever plays a case on paper hears every tone.
    this.#do({ do: 'note-tones', heard: true }, 'script', by);
  }

  get #stamp(): Stamp {
    return stampOf(this.#device);
  }

  /** The picture now; every cue that it shows is kept. */
  #look(): View {
    const view = viewOf(this.#log.state, this.#stamp);
    for (const cue of view.cues) {
      // Where nobody knows since when, it counts from the moment at which that came out.
      const dueAtMs = view.at.loMs + (Number.isFinite(cue.dueInMs) ? cue.dueInMs : 0);
      const before = this.#cues.get(cue.id);
      const hasSounded = cue.dueInMs <= 0 || (before?.hasSounded ?? false);
      this.#cues.set(cue.id, { cue, dueAtMs: before?.dueAtMs ?? dueAtMs, hasSounded });
    }
    return view;
  }

  #wait(ms: number): void {
    this.#device = passed(this.#device, ms);
  }

  #do(command: Command, place: string, by: string | null): RehearsalProblem | null {
    const log = this.#log;
    const stamp = this.#stamp;
    const decided = decide(log, command, stamp, this.#input.tell);
    if (!decided.ok) return refusedProblem(decided.error, place, this.#device.trueMs);
    this.#log = extend(log, recordPress({ log, events: decided.value, stamp, by }));
    if (command.do === 'press') this.#count(command.offer.step);
    return null;
  }

  #count(stepId: string): void {
    this.#presses += 1;
    const stage = this.#input.protocol.steps.find((s) => s.id === stepId)?.stage ?? '';
    this.#byStage.set(stage, (this.#byStage.get(stage) ?? 0) + 1);
  }

  /** Carries out one row. */
  row(placed: PlacedRow): RehearsalProblem | null {
    const { place, atMs, afterMs, row } = placed;
    const lateMs = atMs === null ? -afterMs : this.#device.trueMs - atMs;
    if (lateMs > 0) {
      const expected = `a time not before ${this.#device.trueMs} ms, when the rows above are over`;
      return problem(`${place}.at`, expected, row.at, 'time-backwards');
    }
    this.#wait(-lateMs);
    const by = this.#person(placed);
    if (!by.ok) return by.error;
    if (row.follow !== undefined) return this.#follow(placed, by.value);
    if (this.#deviceRow(placed)) return null;
    if (row.settleGap !== undefined) return this.#settle(placed, by.value);
    const scene = { layout: layoutOf(this.#log.state), offers: this.#look().offers };
    const command = commandOf(scene, placed);
    return command.ok ? this.#do(command.value, place, by.value) : command.error;
  }

  #person({ place, row }: PlacedRow): Result<string | null, Problem> {
    const { spec, script } = this.#input;
    const by = row.by ?? script.by;
    if (by === null) return ok(spec.people[0]?.id ?? null);
    if (spec.people.some((p) => p.id === by)) return ok(by);
    const where = row.by === undefined ? 'script.by' : `${place}.by`;
    return err(problem(where, 'a person of the case', by, 'unknown-person'));
  }

  #settle({ place, row }: PlacedRow, by: string | null): RehearsalProblem | null {
    const gap = this.#log.state.gaps.at(-1);
    if (!gap) return problem(`${place}.settleGap`, 'a gap to settle', 'none so far', 'no-gap');
    const lengthMs = scriptMs(row.settleGap ?? 0);
    return this.#do({ do: 'settle-gap', gap: gap.seq, lengthMs }, place, by);
  }

  /** Rows that happen to the device; the watch on the clocks notes them at once. */
  #deviceRow({ place, row }: PlacedRow): boolean {
    const before = this.#stamp;
    const d = this.#device;
    if (row.sleep !== undefined) {
      const ms = scriptMs(row.sleep);
      this.#device = { ...d, trueMs: d.trueMs + ms, wallMs: d.wallMs + ms };
    } else if (row.reload !== undefined) {
      const ms = scriptMs(row.reload);
      this.#device = { trueMs: d.trueMs + ms, wallMs: d.wallMs + ms, monoMs: 0, run: d.run + 1 };
    } else if (row.moveWall !== undefined) {
      this.#device = { ...d, wallMs: d.wallMs + scriptMs(row.moveWall) };
    } else {
      return false;
    }
    const after = this.#stamp;
    const isBack = after.wallMs < before.wallMs;
    const moved = isBack ? 'moved-back' : 'asleep-or-moved';
    const cause = row.reload === undefined ? moved : 'closed';
    this.#do({ do: 'note-gap', before, after, cause }, place, null);
    return true;
  }

  #follow({ place, row }: PlacedRow, by: string | null): RehearsalProblem | null {
    for (let followed = 0; followed < FOLLOWED_MAX; followed += 1) {
      const view = this.#look();
      const layout = layoutOf(this.#log.state);
      const move = nextMove(view, layout, { paceFactor: row.paceFactor ?? 1 });
      const offer = move && upTo(move.offer, row.until);
      if (move === null || offer === null) {
        const isMissed = row.until !== undefined && move === null;
        return isMissed ? missedUntil(place, row.until, layout.byStep.has(row.until ?? '')) : null;
      }
      this.#wait(move.waitMs);
      // After a wait, something else may be more urgent.
      if (move.waitMs > 0) continue;
      this.#wait(move.busyMs);
      this.#look();
      const no = this.#do({ do: 'press', offer }, place, by);
      if (no !== null) return no;
    }
    return problem(place, 'a case that ends', `${FOLLOWED_MAX} presses`, 'no-end');
  }

  result(): Rehearsal {
    const view = this.#look();
    const open = new Set(view.cues.map((cue) => cue.id));
    const cues = [...this.#cues.values()].filter((c) => c.hasSounded || open.has(c.cue.id));
    return {
      log: this.#log,
      now: this.#stamp,
      view,
      cues: cues.sort((a, b) => a.dueAtMs - b.dueAtMs),
      pressesByStage: Object.fromEntries(this.#byStage),
      presses: this.#presses,
      endedAtMs: this.#device.trueMs,
    };
  }
}

/**
 * The press that comes before this step is next: of a list the lines in front of it. Null where it is next
 * itself, or where the next press would say that it is done.
 */
function upTo(offer: Offer, until: string | undefined): Offer | null {
  if (until === undefined) return offer;
  if (offer.implies?.some(({ step }) => step === until)) return null;
  const { taken } = offer;
  if (taken === undefined) return offer.step === until ? null : offer;
  const at = taken.findIndex(({ step }) => step === until);
  if (at < 0) return offer;
  return at === 0 ? null : { ...offer, taken: taken.slice(0, at) };
}

function missedUntil(place: string, until: string | undefined, isStep: boolean): Problem {
  const expected = isStep ? 'a step that is still ahead' : 'a step of the protocol';
  return problem(`${place}.until`, expected, until, isStep ? 'bad-value' : 'unknown-step');
}

function refusedProblem(refusal: Refusal, place: string, atMs: number): RehearsalProblem {
  const missing = refusal.missing.slice(0, 3).join(', ');
  const came = missing === '' ? refusal.code : `${refusal.code} (${missing})`;
  const expected = `something that can be done at ${atMs} ms`;
  return { code: `refused-${refusal.code}`, place, expected, came, refusal };
}

/** Carries out a script. Stops at the first row that cannot be carried out, and says why. */
export function rehearse(input: RehearsalInput): Result<Rehearsal, RehearsalProblem> {
  const { spec, protocol, protocolHash, plan, script } = input;
  const opening = decideOpening({
    mode: 'rehearsal',
    spec,
    protocol,
    protocolHash,
    approval: null,
    plan,
  });
  if (!opening.ok) return err(refusedProblem(opening.error, 'case', 0));
  const runner = new Runner(input, opening.value);
  for (const placed of script.rows) {
    const no = runner.row(placed);
    if (no !== null) return err(no);
  }
  return ok(runner.result());
}
