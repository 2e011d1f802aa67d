/**
 * The people at one tablet. They do what is offered at their pace, and slip: too early, too late, the
 * wrong line, a glove that bounces, a press that is taken back or was made five seconds ago, a mishap.
 */
import type { Command } from '../../src/engine/commands.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { answered, nextMove } from '../../src/plan/follow.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { Dice } from './dice.ts';
import type { Page } from './page.ts';
import { drawCase } from './protocols.ts';
import type { Tablet } from './tablet.ts';
import type { World } from './world.ts';

/** They look at the screen again after so long when there is nothing to do. */
const LOOK_AGAIN_MS = 1500;
/** What they do not get done in so many tries they leave. */
const TRIES_MAX = 25;

export class People {
  readonly #world: World;
  readonly #tablet: Tablet;
  readonly #dice: Dice;
  #cases = 0;
  #prepared = 0;
  #failures = 0;
  #isBusy = false;

  constructor(world: World, tablet: Tablet, dice: Dice) {
    this.#world = world;
    this.#tablet = tablet;
    this.#dice = dice;
  }

  start(): void {
    this.#lookIn(this.#dice.whole(200, 3000));
  }

  #lookIn(ms: number): void {
    this.#world.loop.after(ms, () => this.#look(), null);
  }

  #look(): void {
    const { nowMs } = this.#world.loop;
    const page = this.#world.inFront(this.#tablet);
    if (this.#isBusy || this.#world.isOver || page === null || page.heldUntilMs > nowMs) {
      this.#lookIn(LOOK_AGAIN_MS);
      return;
    }
    const { running, standing } = page.session.store.getState();
    if (standing !== 'writer') this.#takeSeat(page);
    else if (running === null || running.isViewOnly) this.#takeUp(page);
    else if (running.log.state.closed !== null) {
      page.do(() => page.session.leaveChair());
      this.#lookIn(LOOK_AGAIN_MS);
    } else this.#work(page, running);
  }

  /** One thing at a time that needs an answer. */
  #ask(what: () => Promise<unknown>, page: Page): void {
    this.#isBusy = true;
    const done = (): void => {
      this.#isBusy = false;
    };
    page.do(() => void what().then(done, done));
    // Whoever hears nothing looks again: the page may be dead.
    this.#world.loop.after(40_000, done, null);
    this.#lookIn(LOOK_AGAIN_MS);
  }

  /** They look on from here for a while, ask for the seat, and go back to where it is when refused. */
  #takeSeat(page: Page): void {
    const { cases } = page.session.store.getState();
    const open = cases.find((c) => c.closedByPress === null);
    if (open !== undefined && this.#dice.chance(0.5)) {
      this.#ask(() => page.session.resumeCase(open.caseId), page);
      return;
    }
    const force = this.#failures > 2;
    this.#failures += 1;
    this.#ask(async () => {
      const outcome = await page.session.becomeWriter({ force });
      if (outcome === 'held') this.#failures = 0;
      if (outcome === 'refused') this.#world.turnTo(this.#tablet);
    }, page);
  }

  #takeUp(page: Page): void {
    const open = page.session.store
      .getState()
      .cases.filter((c) => c.closedByPress === null && this.#world.isOf(this.#tablet, c.caseId));
    const found = this.#dice.of(open);
    if (found !== undefined && this.#dice.chance(0.95)) {
      this.#ask(() => page.session.resumeCase(found.caseId), page);
      return;
    }
    const clinic = this.#world.clinic;
    if (clinic !== null && this.#dice.chance(0.5)) {
      const free = page.session.store
        .getState()
        .cases.filter((c) => c.closedByPress === null && c.mode === 'patient');
      const other = this.#dice.of(free);
      const reason = this.#dice.chance(0.2) ? { reason: 'its tablet is gone' } : {};
      if (other !== undefined) {
        this.#ask(() => clinic.take(page, { caseId: other.caseId, ...reason }), page);
        return;
      }
    }
    this.#cases += 1;
    const { spec, protocol } = drawCase(this.#dice, `${this.#tablet.name}-case-${this.#cases}`);
    const draft = {
      protocol,
      hash: 'h',
      origin: 'own',
      approval: { hash: 'h', by: 'lead', onWallMs: 0 },
    } as const;
    const mode = this.#dice.chance(0.85) ? 'patient' : 'rehearsal';
    const speed = mode === 'patient' ? 1 : (this.#dice.of([1, 10, 60] as const) ?? 1);
    this.#ask(async () => {
      const opened = await page.session.openCase({ spec, mode, speed, draft });
      if (opened.ok) this.#world.opened(this.#tablet, opened.value);
    }, page);
  }

  /** Waits as long as it takes, then presses or slips. */
  #work(page: Page, running: RunningCase): void {
    const dice = this.#dice;
    if (this.#failures > TRIES_MAX) {
      this.#failures = 0;
      this.#press(page, { do: 'stop-visit', reason: 'no way on' });
      this.#lookIn(LOOK_AGAIN_MS);
      return;
    }
    const layout = layoutOf(running.log.state);
    const paceFactor = 0.3 + dice.unit() * 0.7;
    const move = nextMove(running.view, layout, { paceFactor });
    if (move === null) {
      this.#world.loop.after(800, () => this.#next(page), null);
      return;
    }
    const waitMs = Math.min(
      90_000,
      move.waitMs * (dice.chance(0.08) ? 0.7 : 1) + move.busyMs * 0.5,
    );
    const lateMs = dice.chance(0.03) ? dice.whole(2000, 25_000) : 0;
    this.#world.loop.after(waitMs + lateMs + dice.whole(50, 300), () => this.#next(page), null);
  }

  #next(page: Page): void {
    const { loop } = this.#world;
    const { running } = page.session.store.getState();
    if (page.isDead || page.heldUntilMs > loop.nowMs || running === null || running.isViewOnly) {
      this.#lookIn(LOOK_AGAIN_MS);
      return;
    }
    const refused = this.#press(page, this.#draw(running));
    this.#failures = refused ? this.#failures + 1 : 0;
    if (this.#dice.chance(0.05)) {
      // A glove that bounces.
      loop.after(this.#dice.whole(30, 350), () => this.#bounce(page), null);
    }
    if (this.#dice.chance(0.02)) this.#beside(page);
    this.#lookIn(this.#dice.whole(380, 500));
  }

  /** What is done between two presses, in the same window. */
  #beside(page: Page): void {
    const { shelves, faults, clinic } = this.#world;
    if (clinic !== null && this.#dice.chance(0.4)) {
      const isGiven = this.#dice.chance(0.5);
      this.#prepared += 1;
      const id = `${this.#tablet.name}-prepared-${this.#prepared}`;
      const { spec } = drawCase(this.#dice, id);
      const act = () => (isGiven ? clinic.give(page) : clinic.prepare(page, spec));
      page.do(() => void this.#world.looking(act()));
      return;
    }
    const drawn = this.#dice.unit();
    const does = async (): Promise<void> => {
      if (drawn < 0.7) await shelves.keep(page);
      else if (drawn < 0.85) {
        if (await shelves.backUp(page)) faults.count('backup made');
      } else if (await shelves.bring(page)) faults.count('backup restored');
    };
    page.do(() => void this.#world.looking(does()));
  }

  #bounce(page: Page): void {
    if (page.isDead || page.heldUntilMs > this.#world.loop.nowMs) return;
    this.#world.acting(page, () => page.door.press());
  }

  /** True when it was refused, or nothing came of it. */
  #press(page: Page, command: Command | 'bar'): boolean {
    return this.#world.acting(page, () => {
      if (command === 'bar') return page.door.press();
      return command.do === 'press' ? page.door.press(command.offer) : page.door.do(command);
    });
  }

  #draw(running: RunningCase): Command | 'bar' {
    const { dice, slips } = { dice: this.#dice, slips: this.#slip(running) };
    if (slips !== null && dice.chance(0.9)) return slips;
    const { view, log } = running;
    if (view.finished || dice.chance(0.3)) return 'bar';
    const layout = layoutOf(log.state);
    const move = nextMove(view, layout, { paceFactor: 1 });
    if (move === null) return 'bar';
    const isWrong = dice.chance(0.03);
    const offer = isWrong ? dice.of(view.offers) : move.offer;
    return { do: 'press', offer: answered(layout, offer ?? move.offer), reason: 'as it came' };
  }

  /** What goes otherwise than planned; mostly nothing. */
  #slip({ log, view, undo }: RunningCase): Command | null {
    const dice = this.#dice;
    const drawn = dice.unit();
    const { state } = log;
    const gap = state.gaps.find((g) => !g.settled && g.hiMs > 2000);
    if (gap !== undefined && dice.chance(0.3)) {
      const lengthMs = this.#world.unknownMs(log, view);
      if (lengthMs !== null) return { do: 'settle-gap', gap: gap.seq, lengthMs };
    }
    if (drawn < 0.05) return undo === null ? null : { do: 'undo' };
    if (drawn < 0.09) return { do: 'retime', byMs: -5000 };
    if (drawn < 0.11) {
      const way = dice.of(waysBackNow(state, layoutOf(state)));
      if (!way) return null;
      const { id, mishap } = way.wayBack;
      const subjects = way.subjects.slice(0, 1);
      return { do: 'take-way-back', wayBack: id, mishap, subjects, reason: 'it got wet' };
    }
    if (drawn < 0.14) {
      const cue = dice.of(view.cues.filter((c) => c.dueInMs <= 0 && !c.acknowledged));
      return cue === undefined ? null : { do: 'acknowledge', cue: cue.id };
    }
    if (drawn < 0.15) return { do: 'note', words: 'a word about it' };
    if (drawn < 0.155) {
      const { step, subject } = dice.of(layoutOf(state).instances) ?? {};
      if (step === undefined || subject === undefined) return null;
      return { do: 'skip', step: step.id, subjects: [subject], reason: 'left out' };
    }
    return null;
  }
}
