/** Every draw of a run, from one seed. */

/** Mulberry32, a small generator by T. Ettinger (public domain, 2017): the same seed, the same draws. */
export class Dice {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** From 0 up to, but not, 1. */
  unit(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  }

  chance(share: number): boolean {
    return this.unit() < share;
  }

  /** A whole number from `from` to `to`, both included. */
  whole(from: number, to: number): number {
    return from + Math.floor(this.unit() * (to - from + 1));
  }

  /** One of the list; undefined of an empty one. */
  of<T>(list: readonly T[]): T | undefined {
    return list[Math.floor(this.unit() * list.length)];
  }

  /** Waiting times of things that come at random, `mean` apart. */
  until(mean: number): number {
    return Math.ceil(-Math.log(1 - this.unit()) * mean);
  }

  /** A generator of its own, so that one part drawing more does not change what another draws. */
  branch(): Dice {
    return new Dice(this.whole(0, 0xffff_ffff));
  }
}
