/**
 * Appointments of which it is known when everything really happened. Hands work at drawn paces, presses
 * are made as the protocol is shipped, and the same appointment is written down a second time with one
 * press for each thing at its true instant. Nothing goes wrong but time. Times in ms from the opening.
 */
import { oneByOne } from '../../.ci/vite/one-by-one.ts';
import { present } from '../../src/base/assert.ts';
import { monoMs, wallMs } from '../../src/base/units.ts';
import { instanceKey, layoutOf } from '../../src/engine/layout.ts';
import { type CaseLog, extend, recordPress } from '../../src/engine/log.ts';
import type { SweepMs, TimedPlace } from '../../src/engine/pressing-types.ts';
import type { CaseEvent } from '../../src/engine/types.ts';
import { nextMove } from '../../src/plan/follow.ts';
import { type Dice, diceOf, uniform } from '../../src/plan/random.ts';
import { type Family, FamilyChair } from './family-chair.ts';

/** When one edge of a step on a subject really was. */
type Truth = Map<string, number>;

const edgeKey = (key: string, edge: 'start' | 'end') => `${key}/${edge}`;

interface Happened {
  readonly atMs: number;
  readonly event: CaseEvent;
}

export class Appointment {
  readonly coarse: FamilyChair;
  readonly #dice: Dice;
  readonly #truth: Truth = new Map();
  readonly #happened: Happened[] = [];
  #pass: { sinceMs: number; places: readonly TimedPlace[]; changeMs: number } | null = null;
  /** Until when the hands were really busy with what has been pressed. */
  #busyUntilMs = 0;
  #lastPressMs = 0;

  constructor(family: Family, seed: number) {
    this.#dice = diceOf(seed);
    this.coarse = FamilyChair.of(family, undefined, 'as-shipped');
  }

  #between(fromMs: number, toMs: number): number {
    return Math.round(fromMs + uniform(this.#dice) * Math.max(0, toMs - fromMs));
  }

  /** Plays it to the end, now and then early, often slowly. */
  play(): this {
    const { coarse } = this;
    for (let i = 0; i < 1000; i += 1) {
      const layout = layoutOf(coarse.log.state);
      const paceFactor = 0.6 + uniform(this.#dice) ** 2 * 2;
      const first = nextMove(coarse.view, layout, { paceFactor });
      if (first === null) return this;
      // A pass of light is led by its tones; anything else may be pressed too soon.
      const isEarly = first.offer.kind === 'end' && uniform(this.#dice) < 0.1;
      coarse.atMs += Math.ceil(first.waitMs * (isEarly ? 0.7 : 1));
      coarse.atMs = Math.max(coarse.atMs, this.#busyUntilMs);
      const move = present(nextMove(coarse.view, layout, { paceFactor }), 'a move');
      if (!isEarly && move.waitMs > 0) continue;
      coarse.atMs += Math.ceil(
        move.busyMs + (uniform(this.#dice) < 0.2 ? this.#between(0, 40_000) : 0),
      );
      const last = present(coarse.log.records.at(-1), 'an entry').seq;
      const no = coarse.do({ do: 'press', offer: move.offer, reason: 'for a test' });
      if (no) throw new Error(`${move.offer.id}: ${no.code}`);
      const events = coarse.log.records.filter((r) => r.seq > last).map((r) => r.event);
      this.#happen(events);
      this.#lastPressMs = coarse.atMs;
    }
    throw new Error('an appointment that does not end');
  }

  /** The true instants of what one press said. */
  #happen(events: readonly CaseEvent[]): void {
    const nowMs = this.coarse.atMs;
    const lines = events.filter((e) => 'list' in e && e.list !== undefined);
    const fromMs = Math.max(this.#lastPressMs, this.#busyUntilMs);
    const drawn = lines.map(() => this.#between(fromMs, nowMs)).toSorted((a, b) => a - b);
    for (const event of events) {
      const at = lines.indexOf(event);
      this.#one(event, at < 0 ? nowMs : present(drawn[at], 'a drawn instant'));
    }
  }

  #one(event: CaseEvent, atMs: number): void {
    switch (event.type) {
      case 'step-confirmed':
        for (const subject of event.subjects) {
          const key = instanceKey(event.step, subject);
          const trueMs =
            event.impliedBy === undefined ? atMs : this.#between(this.#neededMs(key), atMs);
          this.#put(trueMs, key, 'end', { ...event, subjects: [subject] });
        }
        return;
      case 'option-chosen':
        for (const subject of event.subjects) {
          this.#put(atMs, instanceKey(event.step, subject), 'end', {
            ...event,
            subjects: [subject],
          });
        }
        return;
      case 'step-started':
      case 'step-ended':
        this.#edge(event, atMs);
        return;
      case 'coat-applied':
        this.#coat(event, atMs);
        return;
      case 'light-pass-begun':
        this.#pass = { sinceMs: atMs, places: event.places, changeMs: event.changeMs };
        return;
      case 'light-pass-confirmed':
        this.#lit(event.step);
        return;
      default:
        this.#happened.push({ atMs, event });
    }
  }

  #put(atMs: number, key: string, edge: 'start' | 'end', event: CaseEvent): void {
    this.#truth.set(edgeKey(key, edge), atMs);
    this.#happened.push({ atMs, event });
  }

  /** When the last of what an instance waits for really was. */
  #neededMs(key: string): number {
    const { byKey } = layoutOf(this.coarse.log.state);
    const look = (at: string, seen: Set<string>): number =>
      Math.max(
        0,
        ...(byKey.get(at)?.needs ?? []).map((need) => {
          if (seen.has(need.key)) return 0;
          seen.add(need.key);
          return this.#truth.get(edgeKey(need.key, need.edge)) ?? look(need.key, seen);
        }),
      );
    return look(key, new Set());
  }

  #edge(event: Extract<CaseEvent, { type: 'step-started' | 'step-ended' }>, atMs: number): void {
    const edge = event.type === 'step-started' ? 'start' : 'end';
    const { sweep, ...plain } = event;
    const layout = layoutOf(this.coarse.log.state);
    let handsMs = atMs;
    for (const subject of event.subjects) {
      const key = instanceKey(event.step, subject);
      const before = layout.byKey.get(key)?.step.beginsWith;
      const begun = this.#truth.get(edgeKey(instanceKey(before ?? '', subject), 'end'));
      if (edge === 'start' && begun !== undefined) handsMs = begun;
      else if (sweep !== undefined) handsMs += this.#sweep(sweep);
      this.#put(handsMs, key, edge, { ...plain, subjects: [subject] });
      this.#busyUntilMs = Math.max(this.#busyUntilMs, handsMs);
    }
  }

  #sweep({ shortestMs, longestMs }: SweepMs): number {
    return this.#between(shortestMs, longestMs);
  }

  #coat(event: Extract<CaseEvent, { type: 'coat-applied' }>, atMs: number): void {
    const { impliedBy, ...plain } = event;
    const trueMs =
      impliedBy === undefined ? atMs : this.#between(this.#lastCoatMs(event.step), atMs);
    for (const subject of event.subjects) {
      this.#put(trueMs, instanceKey(event.step, subject), 'end', { ...plain, subjects: [subject] });
    }
    this.#truth.set(`${event.step}/coat`, trueMs);
  }

  #lastCoatMs(step: string): number {
    return this.#truth.get(`${step}/coat`) ?? this.#lastPressMs;
  }

  /** Each place was lit about when its tone came, and never before the lamp had left the one before. */
  #lit(step: string): void {
    const pass = present(this.#pass, 'a pass');
    let freeMs = 0;
    for (const { subject, surface, position, setMs, fromMs } of pass.places) {
      const toneMs = pass.sinceMs + fromMs;
      const slipMs = fromMs === 0 ? 0 : this.#between(-pass.changeMs, pass.changeMs);
      const onMs = Math.max(freeMs, toneMs + slipMs);
      freeMs = onMs + setMs;
      const at = { step, subject, surface, position };
      this.#happened.push({ atMs: onMs, event: { type: 'exposure-started', ...at, setMs } });
      this.#happened.push({ atMs: freeMs, event: { type: 'exposure-stopped', ...at } });
      this.#truth.set(edgeKey(instanceKey(step, subject), 'end'), freeMs);
    }
    this.#pass = null;
  }

  /** The same appointment, pressed one by one at the true instants. */
  fine(): CaseLog {
    const opening = present(this.coarse.log.records[0], 'the opening');
    if (opening.event.type !== 'case-opened') throw new Error('a case begins with its opening');
    const protocol = oneByOne(opening.event.protocol);
    let log = extend(null, [{ ...opening, event: { ...opening.event, protocol } }]);
    const inOrder = this.#happened.toSorted((a, b) => a.atMs - b.atMs);
    for (const { atMs, event } of inOrder) {
      const stamp = {
        wallMs: wallMs(opening.stamp.wallMs + atMs),
        monoMs: monoMs(opening.stamp.monoMs + atMs),
        runId: opening.stamp.runId,
      };
      log = extend(log, recordPress({ log, events: [bare(event)], stamp, by: 'dentist-a' }));
    }
    return log;
  }
}

/** An event as one press writes it. */
function bare(event: CaseEvent): CaseEvent {
  if (event.type === 'step-confirmed') {
    const { list: _, impliedBy: __, ...plain } = event;
    return plain;
  }
  if (event.type !== 'option-chosen') return event;
  const { list: _, ...plain } = event;
  return plain;
}
