/** What goes wrong, and when. Everything comes at random, at rates far above those of a clinic. */
import { cutPower, damage } from './damage.ts';
import type { Dice } from './dice.ts';
import type { Page } from './page.ts';
import type { Tablet } from './tablet.ts';
import type { World } from './world.ts';

/** On the average one fault on each tablet in so long. */
const EVERY_MS = 20_000;
/**
 * After a wall clock was set back the tablet is left alone for so long: a gap in which the clock went
 * back by less than the gap is long cannot be told from a shorter one, by any app that has two clocks.
 */
const CALM_MS = 20_000;

/** What a database has begun when its page dies is over after so long. */
const SETTLED_MS = 3500;

const STEPS_MS = [300, 1000, 2500, 61_000, 120_000, 3_600_000, 86_400_000];
/** How far tablets of a clinic may be apart. */
const YEARS_MS = 3 * 365 * 86_400_000;

type Fault = (tablet: Tablet, page: Page) => boolean;

export class Faults {
  readonly #world: World;
  readonly #dice: Dice;
  readonly #calmUntilMs = new Map<Tablet, number>();
  #isOn = false;
  #killsPresses = new Set<Page>();

  constructor(world: World, dice: Dice) {
    this.#world = world;
    this.#dice = dice;
  }

  start(): void {
    this.#isOn = true;
    for (const tablet of this.#world.tablets) this.#nextFor(tablet);
  }

  /** Puts everything right again. */
  stop(): void {
    this.#isOn = false;
    for (const tablet of this.#world.tablets) {
      tablet.databaseMs = 0;
      tablet.filesMs = 0;
      tablet.isDatabaseFull = false;
      tablet.filesFail = 'no';
      tablet.isFlushLying = false;
      tablet.losesMessages = false;
    }
  }

  #nextFor(tablet: Tablet): void {
    this.#world.loop.after(
      this.#dice.until(EVERY_MS),
      () => {
        if (!this.#isOn) return;
        this.#strike(tablet);
        this.#nextFor(tablet);
      },
      null,
    );
  }

  #strike(tablet: Tablet): void {
    const page = this.#world.inFront(tablet);
    if (page === null || tablet.heldUntilMs > this.#world.loop.nowMs || this.#isCalm(tablet))
      return;
    const kinds = Object.entries(this.#kinds);
    const [name, strike] = this.#dice.of(kinds) ?? ['', () => false];
    if (strike(tablet, page)) {
      tablet.troubledAtMs = this.#world.loop.nowMs;
      this.count(name);
      this.#world.tell(`${page.name} ${name}`);
    }
  }

  count(name: string): void {
    const { faults } = this.#world.tally;
    faults[name] = (faults[name] ?? 0) + 1;
  }

  #isCalm(tablet: Tablet): boolean {
    return (this.#calmUntilMs.get(tablet) ?? 0) > this.#world.loop.nowMs;
  }

  /** Sets something for a while. */
  #forAWhile(tablet: Tablet, ms: number, set: (isOn: boolean) => void): true {
    set(true);
    const end = (): void => {
      set(false);
      tablet.troubledAtMs = this.#world.loop.nowMs;
    };
    this.#world.loop.after(ms, end, null);
    return true;
  }

  readonly #kinds: Readonly<Record<string, Fault>> = {
    kill: (_tablet, page) => this.#killIn(page, this.#dice.whole(1, 60)),
    'kill in a press': (_tablet, page) => this.#killsPresses.add(page) !== undefined,
    'kill in the next press': (_tablet, page) => this.#killsPresses.add(page) !== undefined,
    reload: (_tablet, page) => this.#killIn(page, 1),
    sleep: (tablet) => {
      tablet.sleep(
        this.#dice.chance(0.8) ? this.#dice.whole(200, 10_000) : this.#dice.whole(10_000, 300_000),
      );
      const page = this.#world.inFront(tablet);
      if (page !== null && this.#dice.chance(0.7))
        this.#world.loop.after(1, () => page.resume(), page);
      return true;
    },
    freeze: (_tablet, page) => {
      page.frozenUntilMs = this.#world.loop.nowMs + this.#dice.whole(300, 8000);
      return true;
    },
    'clock ahead': (tablet) => {
      tablet.moveWall(this.#step());
      return true;
    },
    'clock back': (tablet, page) => {
      if (page.heldUntilMs > this.#world.loop.nowMs || tablet.databaseMs > 0) return false;
      tablet.moveWall(-this.#step());
      this.#calmUntilMs.set(tablet, this.#world.loop.nowMs + CALM_MS);
      return true;
    },
    slew: (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(60_000, 1_200_000), (isOn) =>
        tablet.slewWall(isOn ? this.#dice.whole(-500, 500) : 0),
      ),
    'slow database': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(1000, 15_000), (isOn) => {
        tablet.databaseMs = isOn ? this.#dice.whole(20, 3000) : 0;
      }),
    'full database': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(1000, 30_000), (isOn) => {
        tablet.isDatabaseFull = isOn;
      }),
    'connection lost': (_tablet, page) => {
      page.loseConnection();
      return true;
    },
    'slow files': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(1000, 20_000), (isOn) => {
        tablet.filesMs = isOn ? this.#dice.whole(20, 3000) : 0;
      }),
    'files lost': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(1000, 40_000), (isOn) => {
        tablet.filesFail = isOn ? 'lost' : 'no';
      }),
    'full files': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(1000, 40_000), (isOn) => {
        tablet.filesFail = isOn ? 'full' : 'no';
      }),
    'flushing lies': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(10_000, 120_000), (isOn) => {
        tablet.isFlushLying = isOn;
      }),
    'messages lost': (tablet) =>
      this.#forAWhile(tablet, this.#dice.whole(1000, 60_000), (isOn) => {
        tablet.losesMessages = isOn;
      }),
    'loudspeaker stalls': (_tablet, page) => {
      page.loudspeaker.stall();
      return true;
    },
    'second window': (tablet) => {
      if (this.#world.pagesOf(tablet).length > 1) return false;
      this.#world.open(tablet);
      return true;
    },
  };

  /** How far people or the network move a clock. */
  #step(): number {
    return this.#dice.of(this.#world.clinic === null ? STEPS_MS : [...STEPS_MS, YEARS_MS]) ?? 1000;
  }

  /** People have pressed: the page may die on the way of this press to its homes. */
  afterPress(page: Page): void {
    if (!this.#killsPresses.delete(page)) return;
    this.#killIn(page, this.#dice.whole(1, 25));
  }

  #killIn(page: Page, steps: number): boolean {
    page.stepsLeft = steps;
    return true;
  }

  /** The page dies between two steps; it, or another, is opened after a while. */
  killNow(page: Page): void {
    page.stepsLeft = Number.POSITIVE_INFINITY;
    const { tablet } = page;
    if (this.#isCalm(tablet) || page.heldUntilMs > this.#world.loop.nowMs || !this.#isOn) return;
    tablet.databaseMs = 0;
    this.#world.kill(page, { commits: this.#dice.chance(0.5) });
    const others = this.#world.pagesOf(tablet);
    for (const other of others)
      if (this.#dice.chance(0.7)) this.#world.kill(other, { commits: true });
    const awayMs = this.#dice.chance(0.8)
      ? this.#dice.whole(500, 5000)
      : this.#dice.whole(5000, 120_000);
    this.#world.loop.after(awayMs, () => this.#openAgain(tablet, awayMs), null);
  }

  #whileClosed(tablet: Tablet): void {
    const dice = this.#dice;
    if (dice.chance(0.2)) {
      cutPower(tablet, dice);
      this.count('power cut');
    }
    if (!dice.chance(0.4)) return;
    const done = damage(tablet, { dice, cases: this.#world.truth.casesOf(tablet.name) });
    if (done === null) return;
    this.count(done);
    this.#world.tell(`${tablet.name} ${done}`);
  }

  #openAgain(tablet: Tablet, awayMs: number): void {
    if (this.#world.isOver) return;
    if (awayMs > SETTLED_MS && this.#world.pagesOf(tablet).length === 0) this.#whileClosed(tablet);
    if (this.#dice.chance(0.15)) {
      // Further than the time away, else no clock could tell.
      tablet.moveWall(
        this.#dice.chance(0.5) ? this.#step() : -awayMs - this.#dice.whole(20_000, 7_200_000),
      );
      this.count('clock moved while closed');
    }
    if (this.#dice.chance(0.05))
      tablet.zone = this.#dice.of(['UTC', 'Asia/Tokyo', 'America/New_York']) ?? 'UTC';
    this.#world.open(tablet);
    this.#world.inspectIn(tablet, 5000);
  }
}
