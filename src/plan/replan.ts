/**
 * The plan seen from the middle of a case: what has happened stands, the rest is planned anew from
 * the present moment. Says how far behind the opening plan the case is and which mixes still fit.
 * Times in ms on the case axis.
 */
import { edgeInstant } from '../engine/edge-instant.ts';
import { instanceKey, layoutOf } from '../engine/layout.ts';
import { isFieldClosed } from '../engine/rest-now.ts';
import type { CaseState } from '../engine/types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { CASE_SUBJECT, mixSubject } from '../protocol/subjects.ts';
import type { RiskOptions } from './drawn-lengths.ts';
import { cutShortMs, lagOf, spreadOf } from './lag.ts';
import { openingState } from './opening-state.ts';
import { projectCase } from './project-case.ts';
import { type RestMoment, restMoments } from './rest-moments.ts';
import { type Risk, riskOf } from './risk.ts';
import type { Timeline } from './timeline.ts';
import { mixWindows } from './working-time.ts';

/** Fewer draws than on the plan: the answer is wanted while people look. */
const REPLAN_SAMPLES = 400;

interface MixOutlook {
  readonly mix: SubjectId;
  readonly units: readonly string[];
  /** `waiting`: not mixed yet. `open`: its working time runs. `done`: nothing of it is left. */
  readonly state: 'waiting' | 'open' | 'done';
  /** Whether its units fit its working time if all goes as expected. */
  readonly fits: boolean;
  /** Room left at the close; null when it is done or no window runs from it. */
  readonly slackMs: number | null;
  readonly pBroken: number | null;
}

export interface Replan {
  readonly timeline: Timeline;
  readonly risk: Risk;
  /** How much later than first planned the case is expected to end; negative: earlier. */
  readonly behindMs: number;
  /** The same as it is worth saying, see {@link lagOf}; null while nothing is said. */
  readonly lagMs: number | null;
  readonly mixes: readonly MixOutlook[];
  /** The next moment at which the patient may rest, and at which to rinse as well; null without one. */
  readonly nextRest: RestMoment | null;
  readonly nextRinse: RestMoment | null;
}

/**
 * When a case was opened, in ms since 1970, by how far the last exposure of the earlier case lies
 * back on its axis; undefined where none does, since nothing else in a plan asks for it.
 */
function beganWallMs({ opened, runs }: CaseState): number | undefined {
  const { follows } = opened.spec;
  const step = opened.protocol.steps.find((s) => s.earlier !== undefined && s.per === 'case');
  if (follows === undefined || step === undefined) return undefined;
  const at = edgeInstant(runs[instanceKey(step.id, CASE_SUBJECT)], 'end');
  return at !== null && at.loMs < 0 ? follows.lastExposureWallMs - at.loMs : undefined;
}

/** The same for two states exactly when their opening timelines are the same. */
export function openingKey(state: CaseState): string {
  const { spec, protocolHash, plan } = state.opened;
  return JSON.stringify([protocolHash, spec, plan, beganWallMs(state) ?? null]);
}

function openingProjection(state: CaseState) {
  const { spec, protocol, plan } = state.opened;
  const opening = openingState({ spec, protocol, plan }, beganWallMs(state));
  return projectCase({ state: opening, nowMs: 0 });
}

/** The appointment as it was planned when the case was opened. Compute it once for a case. */
export function openingTimeline(state: CaseState): Timeline {
  return openingProjection(state).timeline;
}

/** When the plan of the opening ends, and how far it may be out. Compute it once for a case. */
export function openingEnd(state: CaseState): {
  readonly endMs: number;
  readonly spreadMs: number;
} {
  const projected = openingProjection(state);
  const { chair } = riskOf(projected, { samples: REPLAN_SAMPLES });
  return { endMs: projected.timeline.endMs, spreadMs: spreadOf(chair) };
}

function outlookOf(state: CaseState, timeline: Timeline, risk: Risk): MixOutlook[] {
  const { protocol, subjects } = layoutOf(state);
  const windows = mixWindows(protocol);
  const ids = windows.map((w) => w.id);
  return state.plan.mixes.map((units, i): MixOutlook => {
    const mix = mixSubject(i + 1);
    const base = { mix, units };
    const own = timeline.bands.filter((b) => ids.includes(b.of) && b.id.includes(`/${mix}/`));
    const isMixed = windows.some((w) => state.runs[instanceKey(w.from.step, mix)] !== undefined);
    if (own.length === 0) {
      const isOver = isMixed || subjects.linked(mix, 'unit').length === 0;
      const waits = isOver ? 'done' : 'waiting';
      return { ...base, state: waits, fits: true, slackMs: null, pBroken: null };
    }
    const slackMs = Math.min(...own.map((b) => b.slackMs));
    const risks = risk.bands.filter((r) => own.some((b) => b.id === r.id));
    return {
      ...base,
      state: isMixed ? 'open' : 'waiting',
      fits: slackMs >= 0,
      slackMs,
      pBroken: Math.max(0, ...risks.map((r) => r.pBroken)),
    };
  });
}

/** Plans what is left from `nowMs` on. `openingEndMs`: see {@link openingTimeline}. */
export function replan(o: {
  readonly state: CaseState;
  readonly nowMs: number;
  readonly openingEndMs: number;
  /** How far the plan of the opening may be out; see {@link openingEnd}. */
  readonly openingSpreadMs?: number;
  readonly risk?: Partial<RiskOptions>;
}): Replan {
  const { state, nowMs } = o;
  const projected = projectCase({ state, nowMs });
  const risk = riskOf(projected, { samples: REPLAN_SAMPLES, ...o.risk });
  const { timeline } = projected;
  const { protocol } = state.opened;
  const rests = restMoments(timeline, protocol, isFieldClosed(state)).filter(
    ({ atMs }) => atMs > nowMs,
  );
  const behindMs = timeline.endMs - o.openingEndMs;
  return {
    timeline,
    risk,
    behindMs,
    lagMs: lagOf({
      behindMs,
      elapsedMs: nowMs,
      spreadMs: o.openingSpreadMs ?? 0,
      cutShortMs: cutShortMs(state),
    }),
    mixes: outlookOf(state, timeline, risk),
    nextRest: rests[0] ?? null,
    nextRinse: rests.find(({ mayRinse }) => mayRinse) ?? null,
  };
}
