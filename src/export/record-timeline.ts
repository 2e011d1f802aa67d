/**
 * The case as a picture on the case axis: what was done in lanes of the people, the light and each
 * mix; windows as lengths against their limits; ways back, corrections and dead time. From the facts
 * of the record, so every mark lies where the record says; the planned bars come from the plan that
 * the case was opened with. Times in ms from the opening.
 */

import type { Band, Bar, Lane, Timeline } from '../plan/timeline.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Protocol, Role } from '../protocol/types.ts';
import type { RecordFrame } from './record-frame.ts';
import type {
  ExposureFact,
  LengthFact,
  RecordFacts,
  StepFact,
  VoidedFact,
  WindowFact,
} from './record-types.ts';

/** Something that was done. */
export interface DoneMark {
  readonly id: string;
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  /** `span` from a first press to a last one, `moment` a single press, `light` an exposure. */
  readonly kind: 'span' | 'moment' | 'light';
  readonly from: LengthFact;
  readonly to: LengthFact;
  readonly took: LengthFact;
  readonly isBroken: boolean;
  /** It may be outside its limits: they lie inside what is known. */
  readonly isPerhaps: boolean;
  /** It no longer counts: a way back was taken. */
  readonly isVoided: boolean;
}

/** A window laid on its side; those that opened together against the same limit are one. */
export interface WindowGauge {
  readonly id: string;
  readonly window: string;
  readonly title: string;
  readonly subjects: readonly SubjectId[];
  readonly fromMs: number;
  /** When the last of them was closed; null while one is open. */
  readonly to: LengthFact | null;
  /** The longest that it may have lasted; null while it is open, and when nobody knows. */
  readonly tookMs: number | null;
  readonly minMs: number | null;
  readonly maxMs: number | null;
  readonly state: WindowFact['state'];
}

/** A window as the plan expected it to open and close. */
export interface PlannedWindow {
  readonly id: string;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface DoneLane {
  /** As in the plan: `dentist`, `assistant`, `light`, or a mix: `mix:1`. */
  readonly id: string;
  readonly kind: Lane['kind'];
  readonly marks: readonly DoneMark[];
  readonly gauges: readonly WindowGauge[];
  readonly planned: readonly Bar[];
  readonly plannedWindows: readonly PlannedWindow[];
}

export interface ChangeMark {
  readonly id: string;
  readonly kind: 'way-back' | 'correction' | 'plan' | 'emergency' | 'anaesthesia';
  readonly atMs: number;
}

/** One step as planned and as done. */
export interface Compared {
  readonly step: string;
  readonly title: string;
  readonly planned: { readonly fromMs: number; readonly toMs: number } | null;
  readonly done: { readonly fromMs: number; readonly toMs: number } | null;
}

export interface RecordTimeline {
  readonly endMs: number;
  /** When the plan expected the end; null without a plan. */
  readonly plannedEndMs: number | null;
  /** The last thing done, or the signature. */
  readonly doneEndMs: number;
  readonly lanes: readonly DoneLane[];
  /** Windows that belong to no mix, in the order of the protocol. */
  readonly windows: readonly (readonly WindowGauge[])[];
  /** As planned, by window id; those of the mixes stand in their lanes. */
  readonly plannedWindows: Readonly<Record<string, readonly PlannedWindow[]>>;
  readonly changes: readonly ChangeMark[];
  /** `isOpenEnded`: nobody knows how long it was; it is drawn where it began. */
  readonly gaps: readonly {
    readonly fromMs: number;
    readonly toMs: number;
    readonly isOpenEnded: boolean;
  }[];
  readonly compared: readonly Compared[];
}

interface Told {
  readonly facts: RecordFacts;
  readonly protocol: Protocol;
  readonly planned: Timeline | null;
}

const length = ({ loMs, hiMs }: LengthFact): LengthFact => ({ loMs, hiMs });

/** How far something is drawn: to its latest end, or so far as it is known. */
export const drawnToMs = ({ loMs, hiMs }: LengthFact): number => hiMs ?? loMs;

/** An end that nobody knows is the latest. */
const latestMs = ({ hiMs }: LengthFact): number => hiMs ?? Number.POSITIVE_INFINITY;

function isBroken(facts: RecordFacts, { step, subject }: StepFact, perhaps: boolean): boolean {
  const own = facts.breaches.filter((b) => b.what === 'step' && b.of === step);
  return own.some((b) => b.subject === subject && b.perhaps === perhaps);
}

function lightMark(base: Omit<DoneMark, 'kind' | 'from' | 'to' | 'took'>, exposure: ExposureFact) {
  if (exposure.onAt === null) return [];
  const { onAt, given, surface, position } = exposure;
  const hiMs = onAt.hiMs === null ? null : onAt.hiMs + given.hiMs;
  const to = { loMs: onAt.loMs + given.loMs, hiMs };
  const id = `${base.id}/${surface}/${position}/${onAt.loMs}`;
  return [{ ...base, id, kind: 'light' as const, from: length(onAt), to, took: length(given) }];
}

function marksOf(facts: RecordFacts, fact: StepFact | VoidedFact): DoneMark[] {
  if (fact.status === 'skipped' && fact.exposures.length === 0) return [];
  const isVoided = 'voidedByPress' in fact;
  const base = {
    id: isVoided ? `${fact.key}/${fact.voidedByPress}` : fact.key,
    step: fact.step,
    subjects: [fact.subject],
    isBroken: !isVoided && isBroken(facts, fact, false),
    isPerhaps: !isVoided && isBroken(facts, fact, true),
    isVoided,
  };
  if (fact.action === 'expose') return fact.exposures.flatMap((e) => lightMark(base, e));
  // What the earlier case had done was not done here.
  const from = fact.start?.pressed ? fact.start.at : null;
  if (from === null) return [];
  const to = fact.end?.at ?? from;
  const kind = to.loMs === from.loMs ? 'moment' : 'span';
  const took = length(fact.elapsed ?? { loMs: 0, hiMs: 0 });
  return [{ ...base, kind, from: length(from), to: length(to), took }];
}

/** Subjects that one press stands for are one mark. */
function together(marks: readonly DoneMark[]): DoneMark[] {
  const groups = new Map<string, DoneMark>();
  for (const mark of marks) {
    const { step, kind, from, to, took } = mark;
    const flags = `${took.loMs} ${took.hiMs} ${mark.isBroken} ${mark.isPerhaps} ${mark.isVoided}`;
    const key = `${step} ${kind} ${from.loMs} ${from.hiMs} ${to.loMs} ${to.hiMs} ${flags}`;
    const known = groups.get(key);
    const subjects = [...(known?.subjects ?? []), ...mark.subjects];
    groups.set(key, known ? { ...known, subjects } : mark);
  }
  return [...groups.values()].toSorted((a, b) => a.from.loMs - b.from.loMs);
}

/** Whose lane a step stands in: the one the protocol names, else the plan's, else who pressed. */
function roleOf({ facts, protocol, planned }: Told, id: string): Role {
  const by = protocol.steps.find((s) => s.id === id)?.by;
  if (by === 'dentist' || by === 'assistant') return by;
  const bar = planned?.bars.find((b) => b.step === id && b.by !== null);
  const pressed = facts.steps.find((s) => s.step === id)?.by;
  return bar?.by ?? facts.people.find((p) => p.label === pressed)?.role ?? 'assistant';
}

function byLatest(a: LengthFact, b: LengthFact): number {
  const [first, second] = [latestMs(a), latestMs(b)];
  return first === second ? 0 : first - second;
}

/** The longest of several lengths; null when nobody knows one of them. */
function longestMs(lengths: readonly LengthFact[]): number | null {
  const most = Math.max(0, ...lengths.map(latestMs));
  return Number.isFinite(most) ? most : null;
}

function gaugeOf(group: readonly WindowFact[]): WindowGauge[] {
  const [first] = group;
  if (first === undefined) return [];
  const closed = group.flatMap((w) => w.closed ?? []);
  const last = closed.toSorted(byLatest).at(-1);
  const isOpen = closed.length < group.length;
  const has = (state: WindowFact['state']): boolean => group.some((w) => w.state === state);
  const closedAs = has('may-be-broken') ? 'may-be-broken' : 'kept';
  return [
    {
      id: `${first.from}>${first.to}`,
      window: first.window,
      title: first.title,
      subjects: [...new Set(group.map((w) => w.subject))],
      fromMs: first.opened.loMs,
      to: isOpen || last === undefined ? null : length(last),
      tookMs: isOpen ? null : longestMs(group.flatMap((w) => w.elapsed ?? [])),
      minMs: first.minMs,
      maxMs: first.judgedMaxMs,
      state: has('broken') ? 'broken' : isOpen ? 'open' : closedAs,
    },
  ];
}

function gaugesOf(windows: readonly WindowFact[]): WindowGauge[] {
  const groups = new Map<string, WindowFact[]>();
  for (const w of windows) {
    const isOpen = w.closed === null;
    const key = `${w.window} ${w.opened.loMs} ${w.minMs} ${w.judgedMaxMs} ${w.state} ${isOpen}`;
    const group = groups.get(key);
    if (group) group.push(w);
    else groups.set(key, [w]);
  }
  return [...groups.values()].flatMap(gaugeOf).toSorted((a, b) => a.fromMs - b.fromMs);
}

const subjectOf = (key: string): SubjectId => key.slice(key.indexOf('@') + 1);

/** The mix that a window runs from; null for all others. */
function mixOf({ from }: WindowFact): SubjectId | null {
  const subject = subjectOf(from);
  return subject.startsWith('mix:') ? subject : null;
}

function mixLane(told: Told, marks: readonly DoneMark[], mix: RecordFacts['mixes'][number]) {
  const gauges = gaugesOf(told.facts.windows.filter((w) => mixOf(w) === mix.mix));
  const units = mix.units.map((u) => `unit:${u}`);
  const startMs = Math.min(...gauges.map((g) => g.fromMs));
  const endMs = Math.max(...gauges.map((g) => (g.to ? latestMs(g.to) : Number.POSITIVE_INFINITY)));
  const own = marks.filter(({ subjects, from }) =>
    subjects.every(
      (s) =>
        s === mix.mix || (units.includes(s) && from.loMs >= startMs && latestMs(from) <= endMs),
    ),
  );
  const planned = barsIn(told, mix.mix);
  const plannedWindows = plannedIn(told, (b) => bandsOf(told, mix.mix).has(b.id));
  return { id: mix.mix, kind: 'mix' as const, marks: own, gauges, planned, plannedWindows };
}

const bandsOf = ({ planned }: Told, lane: string): ReadonlySet<string> =>
  new Set(planned?.lanes.find((l) => l.id === lane)?.bands);

/** Windows of the plan, each once for all who share it; the limits of dwells are no windows here. */
function plannedIn({ planned }: Told, isWanted: (band: Band) => boolean): PlannedWindow[] {
  return (planned?.bands ?? [])
    .filter((b) => b.what === 'window' && isWanted(b))
    .map(({ id, fromMs, toMs }) => ({ id, fromMs, toMs }))
    .toSorted((a, b) => a.fromMs - b.fromMs);
}

/** What the plan has in a lane; waiting is nobody's work. */
function barsIn({ planned }: Told, lane: string): Bar[] {
  const ids = new Set(planned?.lanes.find((l) => l.id === lane)?.bars);
  return (planned?.bars ?? []).filter((bar) => ids.has(bar.id) && bar.part !== 'wait');
}

function lanesOf(told: Told, marks: readonly DoneMark[]): DoneLane[] {
  const roles = new Map(told.protocol.steps.map((s) => [s.id, roleOf(told, s.id)]));
  const people = (['dentist', 'assistant'] as const).map((role) => ({
    id: role,
    kind: 'person' as const,
    marks: marks.filter((m) => roles.get(m.step) === role),
    gauges: [],
    planned: barsIn(told, role),
    plannedWindows: [],
  }));
  const light = {
    id: 'light',
    kind: 'light' as const,
    marks: marks.filter((m) => m.kind === 'light'),
    gauges: [],
    planned: barsIn(told, 'light'),
    plannedWindows: [],
  };
  const mixes = told.facts.mixes
    .filter(({ units }) => units.length > 0)
    .map((mix) => mixLane(told, marks, mix));
  return [...people, light, ...mixes].filter(
    (lane) => lane.marks.length + lane.planned.length + lane.gauges.length > 0,
  );
}

function changesOf(frame: RecordFrame, facts: RecordFacts): ChangeMark[] {
  const at = (press: number): number | null => frame.moments.get(press)?.loMs ?? null;
  const back = facts.waysBack.map(({ pressed }) => ({ kind: 'way-back' as const, pressed }));
  const corrected = facts.corrections
    .filter((c) => c.isInForce)
    .map(({ kind, pressed }) => {
      const isPlan = kind === 'plan-changed' || kind === 'mix-added';
      return { kind: isPlan ? ('plan' as const) : ('correction' as const), pressed };
    });
  const emergencies = (facts.emergencies ?? [])
    .filter(({ act }) => act === 'opened')
    .map(({ pressed }) => ({ kind: 'emergency' as const, pressed }));
  const injected = (facts.anaesthesia ?? []).map(({ pressed }) => {
    return { kind: 'anaesthesia' as const, pressed };
  });
  return [...back, ...corrected, ...emergencies, ...injected]
    .flatMap(({ kind, pressed }) => {
      const atMs = at(pressed.press);
      return atMs === null ? [] : [{ id: `${kind} ${pressed.press}`, kind, atMs }];
    })
    .toSorted((a, b) => a.atMs - b.atMs);
}

/** After the signature nothing is timed: the way to a late note is no gap of the case. */
function gapsOf({ gaps, signOff }: RecordFacts): RecordTimeline['gaps'] {
  const closedMs = signOff?.at.hiMs ?? Number.POSITIVE_INFINITY;
  return gaps
    .filter(({ at }) => at.loMs < closedMs)
    .map(({ at, length: { loMs, hiMs } }) => ({
      fromMs: at.loMs,
      toMs: at.loMs + (hiMs ?? loMs),
      isOpenEnded: hiMs === null,
    }));
}

function spanOf(spans: readonly { readonly fromMs: number; readonly toMs: number }[]) {
  if (spans.length === 0) return null;
  return {
    fromMs: Math.min(...spans.map((s) => s.fromMs)),
    toMs: Math.max(...spans.map((s) => s.toMs)),
  };
}

function comparedOf({ protocol, planned }: Told, marks: readonly DoneMark[]): Compared[] {
  return protocol.steps.flatMap(({ id, title }) => {
    const bars = (planned?.bars ?? []).filter((b) => b.step === id);
    const done = spanOf(
      marks
        .filter((m) => m.step === id && !m.isVoided)
        .map((m) => ({ fromMs: m.from.loMs, toMs: drawnToMs(m.to) })),
    );
    const expected = spanOf(bars.map((b) => ({ fromMs: b.startMs, toMs: b.endMs })));
    return done === null && expected === null ? [] : [{ step: id, title, planned: expected, done }];
  });
}

/** The picture of one record. `planned` is null while, or when, there is no plan to compare. */
export function recordTimeline(o: {
  readonly frame: RecordFrame;
  readonly facts: RecordFacts;
  readonly planned: Timeline | null;
}): RecordTimeline {
  const { frame, facts, planned } = o;
  const told: Told = { facts, protocol: frame.protocol, planned };
  const marks = together([...facts.voided, ...facts.steps].flatMap((s) => marksOf(facts, s)));
  const signedMs = facts.signOff ? drawnToMs(facts.signOff.at) : 0;
  const doneEndMs = Math.max(0, signedMs, ...marks.map((m) => drawnToMs(m.to)));
  const gaps = gapsOf(facts);
  const endMs = Math.max(doneEndMs, planned?.endMs ?? 0, ...gaps.map((g) => g.toMs));
  const free = facts.windows.filter((w) => mixOf(w) === null);
  return {
    endMs,
    plannedEndMs: planned?.endMs ?? null,
    doneEndMs,
    lanes: lanesOf(told, marks),
    windows: frame.protocol.windows
      .map((window) => gaugesOf(free.filter((w) => w.window === window.id)))
      .filter((gauges) => gauges.length > 0),
    plannedWindows: Object.fromEntries(
      frame.protocol.windows.map((w) => [w.id, plannedIn(told, (b) => b.of === w.id)]),
    ),
    changes: changesOf(frame, facts),
    gaps,
    compared: comparedOf(told, marks),
  };
}
