/**
 * Whether a unit must be conditioned or primed again before it is loaded, from what happened to it
 * since it was primed and how long ago that was. The protocol's light shield names the moment of
 * priming and its limit. Elapsed times are intervals in ms: a limit counts as passed by the upper
 * end, and as surely passed by the lower. Reasons are codes; the words are in `src/words`.
 *
 * Sources: several ways to clean an etched or silanised ceramic after contact were tested without
 * one that is best for all (Stoma Edu J 2019;6:18; Molecules 2019;24:389), so what is to be repeated
 * is common practice, no source: nothing while seating follows directly, priming after saliva, blood,
 * light or a passed limit, conditioning too when the unit fell or a day went by.
 */
import { MS_PER_HOUR } from '../base/units.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap } from '../protocol/types.ts';
import { elapsed, firstMs } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import { instanceKey, type Layout, type WindowPair } from './layout.ts';
import type { CaseInstant, CaseState, Elapsed } from './types.ts';
import { windowMaxMs } from './window-bounds.ts';

/** Range class of the step that takes the try-in paste out of a unit. */
const CLEANED_AFTER_TRY_IN = 'clean-after-try-in';
/** From here on a unit counts as left overnight. Common practice, no source. */
const OVERNIGHT_MS = 12 * MS_PER_HOUR;

export type Repeat = 'nothing' | 'priming' | 'conditioning';

export type ConditioningCode =
  | 'direct'
  | 'not-primed'
  | 'limit-passed'
  | 'limit-unsure'
  | 'overnight'
  | 'overnight-unsure'
  | 'not-cleaned'
  | 'saliva'
  | 'blood'
  | 'left-in-light'
  | 'unit-dropped';

const REPEATS: Readonly<Record<ConditioningCode, Repeat>> = {
  direct: 'nothing',
  'not-primed': 'priming',
  'limit-passed': 'priming',
  'limit-unsure': 'priming',
  overnight: 'conditioning',
  'overnight-unsure': 'conditioning',
  'not-cleaned': 'priming',
  saliva: 'priming',
  blood: 'priming',
  'left-in-light': 'priming',
  'unit-dropped': 'conditioning',
};

const RANK: Readonly<Record<Repeat, number>> = { nothing: 0, priming: 1, conditioning: 2 };

export interface Conditioning {
  readonly unit: SubjectId;
  /** What is to be repeated: the most that any reason asks for. */
  readonly repeat: Repeat;
  readonly reasons: readonly ConditioningCode[];
  /** Since priming; null while the unit is not primed. */
  readonly since: Elapsed | null;
  readonly limitMs: number;
}

interface Primed {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly unit: SubjectId;
  readonly at: CaseInstant;
}

const spoilsPrimer = (mishap: Mishap): ConditioningCode | null => {
  switch (mishap) {
    case 'saliva':
    case 'blood':
    case 'left-in-light':
    case 'unit-dropped':
      return mishap;
    default:
      return null;
  }
};

/** What was told to have happened to this very unit after it was primed, and not undone since. */
function mishapsSince({ state, unit, at }: Primed): ConditioningCode[] {
  return state.waysBack.flatMap((taken) => {
    const code = taken.subjects.includes(unit) ? spoilsPrimer(taken.mishap) : null;
    // At the same instant counts: a press that found the unit primed came after the priming. Lower
    // ends are compared, because a gap that lies before both has widened both alike.
    return code !== null && taken.at.loMs >= firstMs(at) ? [code] : [];
  });
}

function isNotCleaned({ state, layout, unit, at }: Primed): boolean {
  return layout.protocol.steps.some((step) => {
    if (step.rangeClass !== CLEANED_AFTER_TRY_IN) return false;
    const run = state.runs[instanceKey(step.id, unit)];
    return run?.status === 'skipped' && run.endedAt !== null && run.endedAt.loMs >= firstMs(at);
  });
}

function timeCodes(since: Elapsed, limitMs: number): ConditioningCode[] {
  if (since.loMs >= OVERNIGHT_MS) return ['overnight'];
  if (since.hiMs >= OVERNIGHT_MS) return ['overnight-unsure'];
  if (since.loMs > limitMs) return ['limit-passed'];
  return since.hiMs > limitMs ? ['limit-unsure'] : [];
}

function shieldOf(layout: Layout, unit: SubjectId): WindowPair | undefined {
  return layout.windows.find((w) => w.window.protects === 'shield' && w.subject === unit);
}

/** Judges one unit as of `now`; null where the protocol has no shield over it. */
export function conditioningOf(o: {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly unit: SubjectId;
  readonly now: CaseInstant;
}): Conditioning | null {
  const { state, layout, unit, now } = o;
  const shield = shieldOf(layout, unit);
  const limitMs = shield && windowMaxMs(state, shield);
  if (!shield || limitMs === undefined) return null;
  const at = edgeInstant(state.runs[shield.from], shield.window.from.edge);
  if (at === null)
    return { unit, repeat: 'priming', reasons: ['not-primed'], since: null, limitMs };
  const since = elapsed(at, now);
  const primed: Primed = { state, layout, unit, at };
  const found = [
    ...timeCodes(since, limitMs),
    ...(isNotCleaned(primed) ? (['not-cleaned'] as const) : []),
    ...mishapsSince(primed),
  ];
  const reasons = found.length === 0 ? (['direct'] as const) : [...new Set(found)];
  const repeat = reasons
    .map((code) => REPEATS[code])
    .reduce((most, each) => (RANK[each] > RANK[most] ? each : most), 'nothing');
  return { unit, repeat, reasons, since, limitMs };
}
