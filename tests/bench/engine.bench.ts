/**
 * The engine at the size of a long day: ten units, a log of 2,000 entries, the light being walked.
 * Then one small sequence, the etch round of four teeth, beside a statechart in XState 5 in the same
 * run. Times in ms.
 */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { present } from '../../src/base/assert.ts';
import { deepFreeze } from '../../src/base/freeze.ts';
import { decide } from '../../src/engine/decide.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { type CaseLog, extend, recordPress, replay } from '../../src/engine/log.ts';
import { solveCase } from '../../src/engine/network.ts';
import type { Stamp } from '../../src/engine/types.ts';
import { nowOf, viewOf } from '../../src/engine/view.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { Chair } from '../engine/chair.ts';
import { etchMachine, type RoundPress, TEETH } from '../engine/etch-machine.ts';
import { ETCH_ROUND, type Setting, settingOf } from '../engine/fixture.ts';
import { follow } from '../engine/walks.ts';

interface Measured {
  readonly name: string;
  readonly unit: 'ms' | 'times';
  readonly p50: number;
  readonly p95: number;
  readonly n: number;
}

const EVENTS = 2000;
const UNITS = ['11', '21', '12', '22', '13', '23', '14', '24', '15', '25'];

const readJson = (path: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8'));

function tenUnits(): Setting {
  const file = 'shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json';
  const protocol = parseProtocol(readJson(file));
  const eight = parseCase(readJson('demo-data/cases/eight-upper-veneers.json'));
  if (!protocol.ok || !eight.ok) throw new Error('the shipped documents parse');
  const [first] = eight.value.units;
  const units = UNITS.map((id) => ({ ...present(first, 'unit'), id, teeth: [id] }));
  const spec = parseCase({ ...eight.value, units });
  if (!spec.ok) throw new Error('ten units parse');
  const plan = makeRunPlan(spec.value, protocol.value);
  return deepFreeze({ spec: spec.value, protocol: protocol.value, plan });
}

function measured(name: string, samplesMs: readonly number[]): Measured {
  const sorted = [...samplesMs].sort((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
  return { name: `engine ${name}`, unit: 'ms', p50: at(0.5), p95: at(0.95), n: sorted.length };
}

function timed<T>(samplesMs: number[], work: () => T): T {
  const startMs = performance.now();
  const result = work();
  samplesMs.push(performance.now() - startMs);
  return result;
}

/** A case in the middle of its exposures, with as many entries as a talkative team would leave. */
function longCase(): Chair {
  const chair = new Chair(tenUnits());
  while (chair.view.offers[0]?.step !== 'expose') follow(chair, 1);
  while (chair.log.records.length < EVENTS - 1) {
    chair.at(chair.trueMs + 20);
    chair.do({ do: 'note', words: `note ${chair.log.records.length}` });
  }
  follow(chair, 1);
  return chair;
}

function benchLong(): Measured[] {
  const chair = longCase();
  const applies: number[] = [];
  const views: number[] = [];
  const networks: number[] = [];
  const laterViews: number[] = [];
  for (let i = 0; i < 300; i += 1) {
    // A press and the picture after it, again and again from the same long log.
    const log: CaseLog = chair.log;
    const stamp: Stamp = chair.at(chair.trueMs + 50).stamp;
    const offer = present(chair.view.offers[0], 'offer');
    const next = timed(applies, () => {
      const decided = decide(log, { do: 'press', offer }, stamp, tellReadBack);
      if (!decided.ok) throw new Error(decided.error.code);
      return extend(log, recordPress({ log, events: decided.value, stamp, by: 'dentist-a' }));
    });
    timed(views, () => viewOf(next.state, stamp));
    // As after a press: nothing of the new state is known yet.
    const fresh = { ...next.state };
    timed(networks, () => solveCase(fresh, layoutOf(fresh), nowOf(fresh, stamp)));
    const later = chair.at(chair.trueMs + 10).stamp;
    timed(laterViews, () => viewOf(next.state, later));
  }
  const replays: number[] = [];
  for (let i = 0; i < 12; i += 1) timed(replays, () => replay(chair.log.records));
  const stored = JSON.stringify(chair.log.records);
  const loads: number[] = [];
  for (let i = 0; i < 12; i += 1) timed(loads, () => replay(JSON.parse(stored)));
  const size = `10 units, ${chair.log.records.length} entries`;
  return [
    measured(`${size}: decide and apply a press`, applies),
    measured(`${size}: full view after a press`, views),
    measured(`${size}: full view as time passes`, laterViews),
    measured(`${size}: network update`, networks),
    measured(`${size}: replay`, replays),
    measured(`${size}: replay from JSON text`, loads),
  ];
}

const ROUND: readonly RoundPress[] = [
  ...TEETH.map((t) => ({ waitMs: 4000, event: `gel ${t}` as const })),
  { waitMs: 8000, event: 'rinse 11' },
  ...TEETH.slice(1).map((t) => ({ waitMs: 4000, event: `rinse ${t}` as const })),
  { waitMs: 15_000, event: 'joint' },
];

function roundInEngine(setting: Setting, withViews: boolean): void {
  const chair = new Chair(setting);
  const press = (kind: 'confirm' | 'start' | 'end', step: string, subjects: string[]) => {
    const { log, stamp } = chair;
    const decided = decide(
      log,
      { do: 'press', offer: { kind, step, subjects } },
      stamp,
      tellReadBack,
    );
    if (!decided.ok) throw new Error(decided.error.code);
    const batch = recordPress({ log, events: decided.value, stamp, by: 'dentist-a' });
    chair.log = extend(log, batch);
    if (withViews) viewOf(chair.log.state, stamp);
  };
  press('confirm', 'ready', ['case']);
  for (const { waitMs, event } of ROUND) {
    chair.at(chair.trueMs + waitMs);
    const [what, tooth = ''] = event.split(' ');
    if (what === 'gel') press('start', 'etch', [`tooth:${tooth}`]);
    else if (what === 'rinse') press('end', 'etch', [`tooth:${tooth}`]);
    else
      press(
        'end',
        'rinse',
        TEETH.map((t) => `tooth:${t}`),
      );
  }
}

function roundInStatechart(): void {
  const machine = etchMachine();
  for (const { waitMs, event } of ROUND) {
    machine.clock.advanceTo(machine.clock.nowMs() + waitMs);
    machine.press({ type: event });
  }
  if (!machine.isDone()) throw new Error('the round did not end');
}

function benchRound(): Measured[] {
  const setting = settingOf(ETCH_ROUND, TEETH);
  const ours: number[] = [];
  const oursWithViews: number[] = [];
  const theirs: number[] = [];
  // In turn, so that a busy machine is unfair to nobody; the first rounds only warm up.
  for (let i = 0; i < 260; i += 1) {
    timed(ours, () => roundInEngine(setting, false));
    timed(oursWithViews, () => roundInEngine(setting, true));
    timed(theirs, () => roundInStatechart());
  }
  const kept = (samples: number[]) => samples.slice(60);
  const plain = measured('etch round of four, ten presses', kept(ours));
  const viewed = measured('etch round of four, with a full view after each', kept(oursWithViews));
  const chart = measured('etch round of four in a statechart (XState 5)', kept(theirs));
  const ratio = (name: string, against: Measured): Measured => ({
    name: `engine ${name}`,
    unit: 'times',
    p50: against.p50 / chart.p50,
    p95: against.p95 / chart.p95,
    n: chart.n,
  });
  return [
    plain,
    viewed,
    chart,
    ratio('etch round, share of the time of the statechart', plain),
    ratio('etch round with views, share of the time of the statechart', viewed),
  ];
}

/** Runs all of it, some ten seconds. */
export default async function engineBench(): Promise<Measured[]> {
  return [...benchLong(), ...benchRound()];
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const row of await engineBench()) console.log(JSON.stringify(row));
}
