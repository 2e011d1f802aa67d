/**
 * Who pressed what, when, read from the records of a case: which presses still count, how far each
 * was moved, and which presses made up the run of a step that the state shows.
 */
import { present } from '../base/assert.ts';
import { MS_PER_SECOND } from '../base/units.ts';
import { namedBy } from '../engine/event-subjects.ts';
import { instanceKey } from '../engine/layout.ts';
import type { CaseLog } from '../engine/log.ts';
import type { CaseEvent, InstanceKey, Recorded } from '../engine/types.ts';
import { type ZoneName, zonedIso } from '../words/zone.ts';
import type { PressedFact, PressFact } from './record-types.ts';
import { utc } from './utc.ts';

/** One record that did something to one instance. */
export interface Touch {
  readonly press: number;
  readonly type: CaseEvent['type'];
  readonly event: CaseEvent;
}

export interface PressLog {
  /** False when the press was taken back and the taking back still stands. */
  counts(press: number): boolean;
  pressed(press: number): PressFact;
  /** What the press had recorded. */
  was(press: number): readonly PressedFact[];
  /** How many lines of a list one press took. */
  linesOf(press: number, list: string): number;
  /** The touches of the run that stands. */
  touches(key: InstanceKey): readonly Touch[];
  /** The touches of a run that was voided by `press`. */
  voidedTouches(key: InstanceKey, press: number): readonly Touch[];
}

interface Corrected {
  readonly retracted: ReadonlySet<number>;
  readonly movedByMs: ReadonlyMap<number, number>;
}

/** From the newest to the oldest, so that a taking back that was itself taken back does not count. */
function correctedIn(records: readonly Recorded[]): Corrected {
  const retracted = new Set<number>();
  const movedByMs = new Map<number, number>();
  for (const { press, event } of records.toReversed()) {
    if (retracted.has(press)) continue;
    if (event.type === 'press-retracted') retracted.add(event.press);
    if (event.type === 'press-retimed') {
      movedByMs.set(event.press, (movedByMs.get(event.press) ?? 0) + event.byMs);
    }
  }
  return { retracted, movedByMs };
}

function byPressOf<T extends { readonly press: number }>(items: readonly T[]): Map<number, T[]> {
  const groups = new Map<number, T[]>();
  for (const item of items) {
    const group = groups.get(item.press);
    if (group) group.push(item);
    else groups.set(item.press, [item]);
  }
  return groups;
}

interface Touched {
  readonly standing: ReadonlyMap<InstanceKey, readonly Touch[]>;
  readonly voided: ReadonlyMap<string, readonly Touch[]>;
}

const voidedId = (key: InstanceKey, press: number): string => `${press} ${key}`;

function touchedIn(log: CaseLog, retracted: ReadonlySet<number>): Touched {
  const standing = new Map<InstanceKey, Touch[]>();
  const voided = new Map<string, readonly Touch[]>();
  const voids = byPressOf(log.state.voided);
  for (const { press, event } of log.records) {
    if (retracted.has(press)) continue;
    const { step, subjects } = namedBy(event);
    for (const subject of step === null ? [] : subjects) {
      const key = instanceKey(step ?? '', subject);
      const own = standing.get(key) ?? [];
      own.push({ press, type: event.type, event });
      standing.set(key, own);
    }
    if (event.type !== 'way-back-taken' && event.type !== 'option-chosen') continue;
    for (const { key } of voids.get(press) ?? []) {
      const own = standing.get(key);
      if (own) voided.set(voidedId(key, press), own);
      standing.delete(key);
    }
  }
  return { standing, voided };
}

/** The list, the later step, the times of a sweep, the places of a pass, or what was said of the tones. */
export function howPressed(event: CaseEvent): string | null {
  if (event.type === 'tones-heard') return event.heard ? 'heard' : 'not-heard';
  const seconds = (ms: number): string => `${ms / MS_PER_SECOND} s`;
  const { list, impliedBy, sweep, places } = {
    list: 'list' in event ? event.list : undefined,
    impliedBy: 'impliedBy' in event ? event.impliedBy : undefined,
    sweep: 'sweep' in event ? event.sweep : undefined,
    places: 'places' in event ? event.places : undefined,
  };
  const told = [
    ...(list === undefined ? [] : [`list ${list}`]),
    ...(impliedBy === undefined ? [] : [`by ${impliedBy}`]),
    ...(sweep === undefined
      ? []
      : [`sweep ${seconds(sweep.shortestMs)} to ${seconds(sweep.longestMs)}`]),
    ...(places ?? []).map((p) => `${p.subject} ${p.surface} ${p.position} ${seconds(p.setMs)}`),
  ];
  return told.length === 0 ? null : told.join(', ');
}

/** Reads the presses of a case; local times are those of `zone`. */
export function pressLogOf(log: CaseLog, zone: ZoneName): PressLog {
  const { retracted, movedByMs } = correctedIn(log.records);
  const touched = touchedIn(log, retracted);
  const byPress = byPressOf(log.records);
  const { people } = log.state.opened.spec;
  const labelOf = (id: string | null): string | null =>
    people.find((p) => p.id === id)?.label ?? id;
  return {
    counts: (press) => !retracted.has(press),
    pressed(press) {
      const first = present(byPress.get(press)?.[0], `press ${press}`);
      return {
        press,
        pressedUtc: utc(first.stamp.wallMs),
        pressedLocal: zonedIso(first.stamp.wallMs, zone),
        movedByMs: movedByMs.get(press) ?? 0,
        by: labelOf(first.by),
      };
    },
    was: (press) =>
      (byPress.get(press) ?? []).map(({ event }) => ({
        type: event.type,
        ...namedBy(event),
        how: howPressed(event),
      })),
    linesOf: (press, list) =>
      (byPress.get(press) ?? []).filter(({ event }) => 'list' in event && event.list === list)
        .length,
    touches: (key) => touched.standing.get(key) ?? [],
    voidedTouches: (key, press) => touched.voided.get(voidedId(key, press)) ?? [],
  };
}
