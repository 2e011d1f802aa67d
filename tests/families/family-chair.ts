/**
 * A chair that plays whole shipped families: presses what is offered, at the pace of the protocol,
 * and keeps the log after every press, so that many mishaps can branch off one rehearsal.
 */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { oneByOne } from '../../.ci/vite/one-by-one.ts';
import { present } from '../../src/base/assert.ts';
import { monoMs, wallMs } from '../../src/base/units.ts';
import type { Command, Refusal } from '../../src/engine/commands.ts';
import { decide, decideOpening } from '../../src/engine/decide.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { type CaseLog, extend, recordPress } from '../../src/engine/log.ts';
import type { RunPlan } from '../../src/engine/run-plan-types.ts';
import type { Stamp } from '../../src/engine/types.ts';
import { viewOf } from '../../src/engine/view.ts';
import type { Offer, View } from '../../src/engine/view-types.ts';
import { nextMove } from '../../src/plan/follow.ts';
import { fewestPlan } from '../../src/plan/grouping.ts';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';

/** By path, because the URL of a simulated page is not one that files are read by. */
const textOf = (path: string): string =>
  readFileSync(join(dirname(fileURLToPath(import.meta.url)), '../..', path), 'utf8');

export function protocolNamed(id: string): Protocol {
  const parsed = parseProtocolText(textOf(`shared/protocols/${id}.json`));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

export const caseNamed = (id: string): CaseFile => caseIn('demo-data/cases', id);

export function caseIn(folder: string, id: string): CaseFile {
  const parsed = parseCaseText(textOf(`${folder}/${id}.json`));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

/** The case with these units only, and what is known of their teeth. */
export function withUnits(spec: CaseFile, units: CaseFile['units']): CaseFile {
  const kept = new Set(units.flatMap((unit) => unit.teeth));
  const teeth = spec.teeth?.filter(({ tooth }) => kept.has(tooth));
  return { ...spec, units, ...(teeth && { teeth }) };
}

function shippedTables() {
  const table = (name: string): unknown => JSON.parse(textOf(`shared/tables/${name}.json`));
  const parsed = parsePlanTables({
    blueLight: table('blue-light-hazard'),
    crowns: table('crown-dimensions'),
    ceramics: table('transmittances'),
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

/** Light times and positions are planned as the app plans them, from the reference tables. */
const TABLES = shippedTables();

/** The seven families, each with the prepared case that plays it. */
export const FAMILIES = {
  'veneers, etch-and-rinse': 'two-veneers',
  'veneers, universal': 'four-veneers-universal',
  'glass-ceramic': 'onlay-and-crown',
  zirconia: 'zirconia-crown-and-wing-bridge',
  composite: 'two-composite-inlays',
  preparation: 'prepare-four-veneers',
  finishing: 'finish-two-veneers',
} as const;

export type Family = keyof typeof FAMILIES;

export const SEATING: readonly Family[] = [
  'veneers, etch-and-rinse',
  'veneers, universal',
  'glass-ceramic',
  'zirconia',
  'composite',
];

/**
 * How a family is pressed: as it is shipped, with its lists, sweeps, implied presses and paced light, or
 * with one press for each, as a clinic may set it, so that every step can be looked at by itself.
 */
export type Pressed = 'as-shipped' | 'one-by-one';

/** Monday after the demo cases were seated, 09:00 UTC. */
const START_WALL_MS = Date.UTC(2026, 10, 30, 9, 0, 0);

export class FamilyChair {
  log: CaseLog;
  /** Time since the opening, in ms. */
  atMs = 0;
  presses = 0;
  readonly startWallMs: number;
  runId = 'run-1';
  /** What the monotonic clock showed when this run began. */
  runStartMs = 0;
  /** For how long the tablet slept: its monotonic clock stood still. */
  sleptMs = 0;

  constructor(
    setting: {
      readonly spec: CaseFile;
      readonly protocol: Protocol;
      readonly plan?: RunPlan;
      readonly pressed?: Pressed;
      readonly tones?: boolean;
    },
    startWallMs = START_WALL_MS,
  ) {
    this.startWallMs = startWallMs;
    const { spec, pressed = 'one-by-one', tones } = setting;
    const protocol = pressed === 'one-by-one' ? oneByOne(setting.protocol) : setting.protocol;
    const plan = setting.plan ?? makeRunPlan(spec, protocol, TABLES);
    const opening = { mode: 'rehearsal', protocolHash: 'hash', approval: null, plan } as const;
    const opened = decideOpening({ ...opening, spec, protocol });
    if (!opened.ok) throw new Error(opened.error.code);
    const batch = { log: null, events: opened.value, stamp: this.stamp, by: 'dentist-a' };
    this.log = extend(null, recordPress(batch));
    if (pressed === 'as-shipped' && tones !== false) this.do({ do: 'note-tones', heard: true });
    this.presses = 0;
  }

  static of(family: Family, units?: number, pressed: Pressed = 'one-by-one'): FamilyChair {
    const whole = caseNamed(FAMILIES[family]);
    const spec = units === undefined ? whole : withUnits(whole, whole.units.slice(0, units));
    const shipped = protocolNamed(spec.protocol);
    const protocol = pressed === 'one-by-one' ? oneByOne(shipped) : shipped;
    // The plan of the arithmetic: what is told of a family does not hang on how its paces are drawn.
    return new FamilyChair({ spec, protocol, pressed, plan: fewestPlan(spec, protocol, TABLES) });
  }

  /** Another chair that goes on from an earlier log. */
  static from(kept: { readonly log: CaseLog; readonly atMs: number }): FamilyChair {
    const chair = Object.create(FamilyChair.prototype) as FamilyChair;
    const startWallMs = present(kept.log.records[0], 'the opening').stamp.wallMs;
    return Object.assign(chair, {
      startWallMs,
      presses: 0,
      runStartMs: 0,
      sleptMs: 0,
      runId: 'run-1',
      ...kept,
    });
  }

  get stamp(): Stamp {
    const mono = this.atMs - this.sleptMs - (this.runId === 'run-1' ? 0 : this.runStartMs);
    return {
      wallMs: wallMs(this.startWallMs + this.atMs),
      monoMs: monoMs(mono),
      runId: this.runId,
    };
  }

  get view(): View {
    return viewOf(this.log.state, this.stamp);
  }

  /** The tablet slept for so long: only the wall clock went on. */
  sleep(ms: number): void {
    this.atMs += ms;
    this.sleptMs += ms;
  }

  /** The tablet was off for so long: another browser run, only the wall clock went on. */
  restartAfter(ms: number): void {
    this.atMs += ms;
    this.runStartMs = this.atMs;
    this.runId = `${this.runId}+`;
  }

  do(command: Command): Refusal | null {
    const decided = decide(this.log, command, this.stamp, tellReadBack);
    if (!decided.ok) return decided.error;
    const { log, stamp } = this;
    this.log = extend(log, recordPress({ log, events: decided.value, stamp, by: 'dentist-a' }));
    this.presses += 1;
    return null;
  }

  /** Waits, looks again, works and presses what is offered then; null at the end. */
  next(): Offer | null {
    const layout = layoutOf(this.log.state);
    const first = nextMove(this.view, layout, { paceFactor: 1 });
    this.atMs += Math.ceil(first?.waitMs ?? 0);
    const move = nextMove(this.view, layout, { paceFactor: 1 });
    if (!move) return null;
    this.atMs += Math.ceil(move.waitMs + move.busyMs);
    const no = this.do({ do: 'press', offer: move.offer });
    if (no) throw new Error(`${move.offer.id}: ${no.code} ${no.missing.join(' ')}`);
    return move.offer;
  }

  toTheEnd(): this {
    for (let i = 0; i < 1000 && this.next() !== null; i++);
    return this;
  }

  close(): Refusal | null {
    return this.do({ do: 'close', by: 'dentist-a', role: 'dentist' });
  }
}
