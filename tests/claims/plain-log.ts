/**
 * What the raw log of a case says, read a second time and plainly: entry by entry, from the first to the
 * last, without the state, the view or any model of the screen. The shape of the case (which step is done
 * to what, what belongs to what) is the layout's; where an entry lies on the axis is the log's.
 */
import { AXIS_START, compareHi, elapsed, shift, spreadOver } from '../../src/engine/axis.ts';
import { type Instance, layoutOf, surfacePlans, type WindowPair } from '../../src/engine/layout.ts';
import { type CaseLog, momentsOf } from '../../src/engine/log.ts';
import type { SweepMs } from '../../src/engine/pressing-types.ts';
import type { CaseEvent, CaseInstant, Elapsed } from '../../src/engine/types.ts';

export interface PlainRun {
  startedAt: CaseInstant | null;
  endedAt: CaseInstant | null;
  isSkipped: boolean;
  coats: CaseInstant[];
  lit: {
    readonly surface: string;
    readonly position: number;
    readonly setMs: number;
    readonly since: CaseInstant;
  } | null;
  /** "facial 1" → the shortest light that it may have been given. */
  readonly givenMs: Map<string, number>;
  option: string | null;
  evidence: string | null;
}

type Timed<T extends CaseEvent['type']> = Extract<CaseEvent, { readonly type: T }> & {
  readonly at: CaseInstant;
};

export interface PlainLog {
  readonly log: CaseLog;
  readonly runs: ReadonlyMap<string, PlainRun>;
  readonly lightEnds: ReadonlyMap<string, CaseInstant>;
  /** The events that count, oldest first, each at its place. */
  readonly events: readonly (CaseEvent & { readonly at: CaseInstant; readonly press: number })[];
  readonly of: <T extends CaseEvent['type']>(type: T) => readonly Timed<T>[];
  readonly notation: string;
  readonly isClosed: boolean;
}

/** Presses that were taken back; an undo that was itself taken back takes nothing back. */
function takenBack({ records }: CaseLog): ReadonlySet<number> {
  const gone = new Set<number>();
  for (const { press, event } of records.toReversed()) {
    if (!gone.has(press) && event.type === 'press-retracted') gone.add(event.press);
  }
  return gone;
}

const fresh = (): PlainRun => ({
  startedAt: null,
  endedAt: null,
  isSkipped: false,
  coats: [],
  lit: null,
  givenMs: new Map(),
  option: null,
  evidence: null,
});

class Reader {
  readonly runs = new Map<string, PlainRun>();
  readonly lightEnds = new Map<string, CaseInstant>();
  readonly #log: CaseLog;

  constructor(log: CaseLog) {
    this.#log = log;
  }

  #run(key: string): PlainRun {
    const run = this.runs.get(key) ?? fresh();
    this.runs.set(key, run);
    return run;
  }

  #instance(key: string): Instance | undefined {
    return layoutOf(this.#log.state).byKey.get(key);
  }

  #dark(key: string, at: CaseInstant): void {
    const run = this.runs.get(key);
    if (!run?.lit) return;
    const { surface, position, setMs, since } = run.lit;
    const place = `${surface} ${position}`;
    const givenMs = Math.min(setMs, elapsed(since, at).loMs);
    run.givenMs.set(place, (run.givenMs.get(place) ?? 0) + givenMs);
    run.lit = null;
    this.lightEnds.set(key, at);
  }

  /** When each place of the pass of light that is not confirmed was led through, by tooth and place. */
  readonly #led = new Map<string, CaseInstant>();

  /** Light that tones led through and people confirmed: the whole time of each place, where it was led. */
  #confirmed({ step, places }: Extract<CaseEvent, { type: 'light-pass-confirmed' }>): void {
    for (const { subject, surface, position, setMs } of places) {
      const key = `${step}@${subject}`;
      const at = this.#led.get(`${key} ${surface} ${position}`);
      if (at === undefined) continue;
      const run = this.#run(key);
      const place = `${surface} ${position}`;
      run.startedAt ??= at;
      run.givenMs.set(place, (run.givenMs.get(place) ?? 0) + setMs);
      const end = shift(at, setMs);
      const before = this.lightEnds.get(key);
      const last = before === undefined || compareHi(end, before) > 0 ? end : before;
      this.lightEnds.set(key, last);
      if (this.#isLitEnough(key)) run.endedAt = last;
    }
    this.#led.clear();
  }

  #isLitEnough(key: string): boolean {
    const instance = this.#instance(key);
    if (instance === undefined) return false;
    return surfacePlans(layoutOf(this.#log.state), instance).every((plan) =>
      Array.from({ length: plan.positions }, (_, i) => `${plan.surface} ${i + 1}`).every(
        (place) => (this.runs.get(key)?.givenMs.get(place) ?? 0) >= plan.setMs,
      ),
    );
  }

  #each(
    event: {
      readonly step: string;
      readonly subjects: readonly string[];
      readonly sweep?: SweepMs;
      readonly impliedBy?: string;
      readonly list?: string;
    },
    at: CaseInstant,
    change: (run: PlainRun, key: string, at: CaseInstant) => void,
  ): void {
    const { shortestMs, longestMs } = event.sweep ?? { shortestMs: 0, longestMs: 0 };
    event.subjects.forEach((subject, i) => {
      const key = `${event.step}@${subject}`;
      const run = this.#run(key);
      // One after the other, or at any time since what it waited for.
      const own =
        event.impliedBy === undefined && event.list === undefined
          ? spreadOver(at, { fromMs: i * shortestMs, toMs: (i + 1) * longestMs })
          : spreadOver(at, { fromMs: -this.#sinceMs(key, at), toMs: 0 });
      run.startedAt ??= own;
      change(run, key, own);
    });
  }

  /** How long ago, at the most, the last of what a step waits for was done. */
  #sinceMs(key: string, at: CaseInstant): number {
    const open = [...(this.#instance(key)?.needs ?? [])];
    const seen = new Set<string>();
    let leastMs: number = elapsed(AXIS_START, at).hiMs;
    for (let need = open.pop(); need !== undefined; need = open.pop()) {
      if (seen.has(need.key)) continue;
      seen.add(need.key);
      const run = this.runs.get(need.key);
      // A step that was left out says nothing of when the next was done.
      const done = run?.isSkipped ? null : edgeOf(run, need.edge);
      if (done === null) open.push(...(this.#instance(need.key)?.needs ?? []));
      else leastMs = Math.min(leastMs, elapsed(done, at).hiMs);
    }
    return leastMs;
  }

  #redo(
    event: Extract<CaseEvent, { type: 'option-chosen' }>,
    isAside: (subject: string) => boolean,
  ): void {
    const { protocol, instances, subjects } = layoutOf(this.#log.state);
    const step = protocol.steps.find(({ id }) => id === event.step);
    const option =
      step?.action.kind === 'choose'
        ? step.action.options.find(({ id }) => id === event.option)
        : undefined;
    for (const { step: own, subject, key } of instances) {
      const isOfIt = event.subjects.some((s) => subjects.linked(s, own.per).includes(subject));
      if (isOfIt && option?.redo?.includes(own.id) && !isAside(subject)) this.runs.delete(key);
    }
  }

  /** What the case before has done already lies before the start, by the wall clocks of the two. */
  readEarlier({ records, state: { opened } }: CaseLog): void {
    const { follows } = opened.spec;
    const openedMs = records[0]?.stamp.wallMs ?? 0;
    if (follows === undefined) return;
    const at = shift(AXIS_START, Math.min(0, follows.lastExposureWallMs - openedMs));
    for (const { id, per, earlier } of opened.protocol.steps) {
      if (earlier !== 'last-exposure' || per !== 'case') continue;
      Object.assign(this.#run(`${id}@case`), { startedAt: at, endedAt: at });
    }
  }

  read(event: CaseEvent, at: CaseInstant, isAside: (subject: string) => boolean): void {
    switch (event.type) {
      case 'step-started':
        this.#each(event, at, () => undefined);
        break;
      case 'step-ended':
        this.#each(event, at, (run, _, own) => Object.assign(run, { endedAt: own }));
        break;
      case 'step-confirmed':
        this.#each(event, at, (run, _, own) =>
          Object.assign(run, { endedAt: own, evidence: event.evidence ?? null }),
        );
        break;
      case 'option-chosen':
        this.#each(event, at, (run, _, own) =>
          Object.assign(run, { endedAt: own, option: event.option }),
        );
        this.#redo(event, isAside);
        break;
      case 'coat-applied':
        this.#each(event, at, (run, key) => {
          run.coats.push(at);
          const action = this.#instance(key)?.step.action;
          if (action?.kind === 'coats' && run.coats.length >= action.count.value) run.endedAt = at;
        });
        break;
      case 'pass-made':
        this.#each({ step: event.step, subjects: [event.subject] }, at, (run) =>
          run.coats.push(at),
        );
        break;
      case 'exposure-started':
        this.#each({ step: event.step, subjects: [event.subject] }, at, (run) => {
          run.lit = { ...event, since: at };
        });
        break;
      case 'exposure-stopped': {
        const key = `${event.step}@${event.subject}`;
        this.#dark(key, at);
        const run = this.runs.get(key);
        if (run && this.#isLitEnough(key)) run.endedAt = at;
        return;
      }
      case 'light-pass-begun':
        for (const { subject, surface, position, fromMs } of event.places) {
          this.#led.set(`${event.step}@${subject} ${surface} ${position}`, shift(at, fromMs));
        }
        return;
      case 'light-pass-confirmed':
        this.#confirmed(event);
        return;
      case 'step-skipped':
        for (const subject of event.subjects) {
          const key = `${event.step}@${subject}`;
          this.#dark(key, at);
          Object.assign(this.#run(key), { isSkipped: true, endedAt: at });
        }
        return;
      case 'way-back-taken':
        for (const key of event.voided) this.runs.delete(key);
        return;
      default:
    }
  }
}

const known = new WeakMap<CaseLog, PlainLog>();

/** Units whose steps were all skipped to the last with one press: a new trial leaves them alone. */
function asideAt(log: CaseLog, reader: Reader): (subject: string) => boolean {
  const { instances, subjects } = layoutOf(log.state);
  const isAside = (unit: string): boolean => {
    const own = instances.filter(
      (i) => i.subject === unit && !i.step.optional && !i.step.onlyIf?.length,
    );
    const tail = own.slice(-2).map(({ key }) => reader.runs.get(key));
    return (
      tail.length === 2 &&
      tail.every((run) => run?.isSkipped === true && run.endedAt === tail[1]?.endedAt)
    );
  };
  return (subject) => {
    const units = subject === 'case' ? [] : subjects.linked(subject, 'unit');
    return units.length > 0 && units.every(isAside);
  };
}

export function plainLog(log: CaseLog): PlainLog {
  const hit = known.get(log);
  if (hit) return hit;
  const gone = takenBack(log);
  const moments = momentsOf(log);
  const events = log.records.flatMap(({ event, press }) => {
    const at = moments.get(press);
    return gone.has(press) || at === undefined ? [] : [{ ...event, at, press }];
  });
  const reader = new Reader(log);
  reader.readEarlier(log);
  for (const event of events) reader.read(event, event.at, asideAt(log, reader));
  const of = <T extends CaseEvent['type']>(type: T) =>
    events.filter((event): event is Timed<T> & { press: number } => event.type === type);
  const made: PlainLog = {
    log,
    runs: reader.runs,
    lightEnds: reader.lightEnds,
    events,
    of,
    notation: of('numbering-changed').at(-1)?.notation ?? log.state.opened.spec.notation,
    isClosed: of('case-closed').length > 0,
  };
  known.set(log, made);
  return made;
}

export const edgeOf = (run: PlainRun | undefined, edge: 'start' | 'end'): CaseInstant | null =>
  run === undefined || run.isSkipped ? null : edge === 'start' ? run.startedAt : run.endedAt;

export const isRunning = (run: PlainRun | undefined): boolean =>
  run !== undefined && !run.isSkipped && run.startedAt !== null && run.endedAt === null;

/** The longest that a window may last: the plan's where that is shorter, and less after a bead. */
export function windowMax(
  plain: PlainLog,
  { window, from }: WindowPair,
  since: CaseInstant,
): number | null {
  if (window.maxMs === undefined) return null;
  let maxMs = Math.min(
    window.maxMs.value,
    plain.log.state.plan.windowMaxMs?.[window.id] ?? Number.POSITIVE_INFINITY,
  );
  if (window.protects !== 'working') return maxMs;
  for (const { mix, found, at } of plain.of('bead-probed')) {
    const sinceMs = elapsed(since, at).hiMs;
    if (!from.endsWith(`@${mix}`) || at.loMs < since.loMs || sinceMs >= maxMs) continue;
    if (found === 'firm') maxMs = sinceMs;
    // A stringy bead leaves half of what was left. Common practice, no source.
    if (found === 'stringy') maxMs = Math.round((sinceMs + maxMs) / 2);
  }
  return maxMs;
}

/** Something that runs, with its limits. */
export interface Limit {
  readonly kind: 'dwell' | 'light' | 'window' | 'hold';
  readonly of: string;
  readonly title: string;
  readonly subject: string;
  readonly surface?: string;
  readonly since: CaseInstant;
  readonly elapsed: Elapsed;
  readonly minMs: number | null;
  readonly targetMs: number | null;
  readonly maxMs: number | null;
  /** Keys of the steps that it lies between. */
  readonly from: string;
  readonly to: string;
}

/** Everything that runs at `now`: dwells, the light, and windows that have begun and not ended. */
export function limitsAt(plain: PlainLog, now: CaseInstant): readonly Limit[] {
  const layout = layoutOf(plain.log.state);
  const work = layout.instances.flatMap((instance): Limit[] => {
    const run = plain.runs.get(instance.key);
    const { step, subject, key } = instance;
    const base = { of: step.id, title: step.title, subject, from: key, to: key };
    if (run?.lit) {
      const { setMs, since, surface } = run.lit;
      return [
        {
          ...base,
          kind: 'light',
          surface,
          since,
          elapsed: elapsed(since, now),
          minMs: setMs,
          targetMs: setMs,
          maxMs: null,
        },
      ];
    }
    if (!isRunning(run) || !run?.startedAt || step.action.kind !== 'dwell') return [];
    const { minMs, targetMs, maxMs } = step.action;
    const since = run.startedAt;
    return [
      {
        ...base,
        kind: 'dwell',
        since,
        elapsed: elapsed(since, now),
        minMs: minMs?.value ?? null,
        targetMs: targetMs.value,
        maxMs: maxMs?.value ?? null,
      },
    ];
  });
  const windows = layout.windows.flatMap((pair): Limit[] => {
    const { window, from, to, subject } = pair;
    const since = edgeOf(plain.runs.get(from), window.from.edge);
    const end = plain.runs.get(to);
    if (since === null || end?.isSkipped || edgeOf(end, window.to.edge) !== null) return [];
    const minMs = window.minMs?.value ?? null;
    const isHold = window.maxMs === undefined;
    return [
      {
        kind: isHold ? 'hold' : 'window',
        of: window.id,
        title: window.title,
        subject,
        since,
        elapsed: elapsed(since, now),
        minMs,
        targetMs: isHold ? minMs : null,
        maxMs: windowMax(plain, pair, since),
        from,
        to,
      },
    ];
  });
  return [...work, ...windows];
}

/** Since when the teeth of a subject have had no light; null where they have had none. */
export function lastLight(plain: PlainLog, subject: string): CaseInstant | null {
  const { subjects } = layoutOf(plain.log.state);
  const own = subjects.teethOf(subject);
  const ends = [...plain.lightEnds].filter(([key]) => {
    const lit = key.slice(key.indexOf('@') + 1);
    return lit === subject || subjects.teethOf(lit).some((tooth) => own.includes(tooth));
  });
  return (
    ends
      .map(([, at]) => at)
      .toSorted(compareHi)
      .at(-1) ?? null
  );
}
