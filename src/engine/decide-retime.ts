/**
 * "That was 5 s ago": moves a press that was late. It may be moved within the time that has passed,
 * not before the moments it depends on and not past those that depend on it. Times in ms.
 */
import { err, ok, type Result } from '../base/result.ts';
import { compareHi, lastMs, shift, soonestMs } from './axis.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { edgeInstant } from './edge-instant.ts';
import { type Layout, layoutOf } from './layout.ts';
import { allLed } from './light-pass.ts';
import { type CaseLog, momentOf, recordPress, replay, stateBefore, timedPresses } from './log.ts';
import type { CaseEvent, CaseInstant, CaseState, InstanceKey, Stamp } from './types.ts';
import { nowOf } from './view.ts';

type Retime = Extract<Command, { do: 'retime' }>;

/** Decides a retime; without a press it moves the last one that has a moment. */
export function decideRetime(
  log: CaseLog,
  c: Retime,
  now: Stamp,
): Result<readonly CaseEvent[], Refusal> {
  const timed = timedPresses(log);
  const press = c.press ?? timed.at(-1);
  if (press === undefined || !timed.includes(press)) return err(refusal('nothing-to-undo'));
  const byMs = Math.round(c.byMs);
  const values = { byMs: String(c.byMs) };
  const to = shift(momentOf(log, press), byMs);
  if (to.loMs < floorMs(log, press)) return err(refusal('moves-before-its-start', values));
  // Written so that what is no number is refused as well.
  if (!(compareHi(to, nowOf(log.state, now)) <= 0)) return err(refusal('moves-past-now', values));
  const event: CaseEvent = { type: 'press-retimed', press, byMs };
  const batch = recordPress({ log, events: [event], stamp: now, by: null });
  const after = replay([...log.records, ...batch]);
  if (!staysOrdered(after, press) || isStoppedBefore(log, { press, to }))
    return err(refusal('moves-past-now', values));
  // A press that waited for a hold may not be moved in front of its end without a word.
  if (silentlyBroken(after) > silentlyBroken(log)) {
    return err(refusal('moves-before-its-start', values));
  }
  return ok([event]);
}

/** Whether the pass of light that this press began was stopped before the instant to which it moves. */
function isStoppedBefore(log: CaseLog, o: { press: number; to: CaseInstant }): boolean {
  const begun = log.records.findIndex(
    (r) => r.press === o.press && r.event.type === 'light-pass-begun',
  );
  if (begun < 0) return false;
  const stop = log.records
    .slice(begun)
    .find((r) => r.event.type === 'light-pass-stopped' && timedPresses(log).includes(r.press));
  return stop !== undefined && compareHi(momentOf(log, stop.press), o.to) < 0;
}

/** The instances that the events of a press are about. */
function touchedBy(log: CaseLog, press: number): InstanceKey[] {
  return log.records
    .filter((r) => r.press === press)
    .flatMap(({ event }) => {
      if ('step' in event && 'subjects' in event) {
        return event.subjects.map((s) => `${event.step}@${s}`);
      }
      if ('places' in event) {
        return [...new Set(event.places.map(({ subject }) => `${event.step}@${subject}`))];
      }
      return 'step' in event && 'subject' in event ? [`${event.step}@${event.subject}`] : [];
    });
}

/** The latest moment that this press goes on from: its own run, what it waits for, the one light. */
function floorMs(log: CaseLog, press: number): number {
  const before = stateBefore(log, press);
  const layout = layoutOf(before);
  const moments = touchedBy(log, press).flatMap((key) => momentsBehind(before, layout, key));
  const own = log.records.filter((r) => r.press === press).map(({ event }) => event.type);
  const lights = own.some((type) => type === 'exposure-started' || type === 'light-pass-begun');
  if (lights) moments.push(...Object.values(before.lightEnds).map((at) => at.loMs));
  // What a press says beside the light that it confirms was done after that light.
  if (own.includes('light-pass-confirmed') && before.lightPass !== null) {
    moments.push(...allLed(before.lightPass).map(({ at, setMs }) => at.loMs + setMs));
  }
  // The light cannot have been stopped before it was put on.
  if (own.includes('light-pass-stopped')) {
    moments.push(before.lightPass?.running?.since.loMs ?? 0);
  }
  return Math.max(0, ...moments);
}

function momentsBehind(state: CaseState, layout: Layout, key: InstanceKey): number[] {
  const run = state.runs[key];
  if (run?.startedAt) {
    const own = [run.startedAt, run.lit?.since, run.counts.at(-1)];
    return own.flatMap((at) => (at ? [soonestMs(at)] : []));
  }
  const needs = layout.byKey.get(key)?.needs ?? [];
  return needs.flatMap((need) => {
    const at = edgeInstant(state.runs[need.key], need.edge);
    return at ? [soonestMs(at)] : [];
  });
}

/** False when some run that `press` is about ends before it began, or counts backwards. */
function staysOrdered(log: CaseLog, press: number): boolean {
  const { runs } = log.state;
  return touchedBy(log, press).every((key) => {
    const run = runs[key];
    if (!run) return true;
    const moments = [run.startedAt, ...run.counts, run.endedAt].filter((at) => at !== null);
    return moments.every((at, i) => {
      const before = moments[i - 1];
      // Where both are swept, the later one is as late for this subject as the earlier one is.
      return before === undefined || lastMs(at) >= soonestMs(before);
    });
  });
}

/** Holds that were closed early by presses that say no reason. */
function silentlyBroken({ records, state }: CaseLog): number {
  const holds = state.opened.protocol.windows.filter((w) => w.protects === 'hold').map((w) => w.id);
  const early = state.breaches.filter((b) => b.kind === 'early' && holds.includes(b.of));
  if (early.length === 0) return 0;
  const said = new Set(records.filter((r) => r.event.type === 'note-added').map((r) => r.press));
  return early.filter((b) => !said.has(b.press)).length;
}
