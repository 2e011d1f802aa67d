/**
 * What the press of a later step says of earlier ones: "seated" also says "loaded". Only steps whose
 * protocol lets that press speak for them, and only where nothing else is in the way.
 */
import type { Protocol, Step } from '../protocol/types.ts';
import { AXIS_START, elapsed } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import { isCovered } from './exposures.ts';
import type { Instance, Need } from './layout.ts';
import { allLed, isPassOver } from './light-pass.ts';
import type { CaseNow, Implied } from './offer-draft.ts';
import { applies } from './status.ts';

const speakersKnown = new WeakMap<Protocol, ReadonlySet<string>>();

/** Steps whose press speaks for earlier ones. */
function speakers(protocol: Protocol): ReadonlySet<string> {
  const hit = speakersKnown.get(protocol);
  if (hit) return hit;
  const found = new Set<string>();
  for (const { pressed } of protocol.steps) {
    if (pressed?.kind === 'implied') for (const by of pressed.by) found.add(by);
    if (pressed?.kind === 'paced' && pressed.confirmedBy) found.add(pressed.confirmedBy);
  }
  speakersKnown.set(protocol, found);
  return found;
}

/** How many coats the press of the last one says of those before it, once the first is on. */
export function coatsBetween({ id, pressed, action }: Step, done: number): number {
  if (action.kind !== 'coats' || pressed?.kind !== 'implied' || !pressed.by.includes(id)) return 0;
  return done === 0 ? 0 : Math.max(0, action.count.value - done - 1);
}

const speaksFor = (speaker: Step, { pressed }: Step): boolean =>
  pressed?.kind === 'implied' && pressed.by.includes(speaker.id);

/** What stands in the way, past steps that do not belong to the case: those hand the waiting on. */
function inTheWay(scene: CaseNow, needs: readonly Need[]): readonly Instance[] | null {
  const found: Instance[] = [];
  for (const need of needs) {
    const other = scene.layout.byKey.get(need.key);
    if (other === undefined) continue;
    const status = scene.statuses.of(other);
    if (status === 'done' || status === 'skipped') continue;
    if (status === 'running') {
      if (need.edge === 'start') continue;
      // Light that has begun may be led to its end by the pass that waits to be confirmed.
      if (other.step.pressed?.kind !== 'paced') return null;
      found.push(other);
      continue;
    }
    if (status === 'not-applicable') {
      const behind = inTheWay(scene, other.needs);
      if (behind === null) return null;
      found.push(...behind);
    } else if (need.edge === 'start') return null;
    else found.push(other);
  }
  return found;
}

/** Whether the pass of light that waits to be confirmed has led through all that this tooth is owed. */
function isLed({ state, layout, now }: CaseNow, speaker: Step, other: Instance): boolean {
  const { lightPass } = state;
  const { step, subject, key } = other;
  if (step.pressed?.kind !== 'paced' || step.pressed.confirmedBy !== speaker.id) return false;
  if (lightPass === null || lightPass.step !== step.id || !isPassOver(lightPass, now)) return false;
  const places = allLed(lightPass).filter((place) => place.subject === subject);
  return isCovered(layout, { instance: other, run: state.runs[key] }, places);
}

/**
 * What a press of this instance would say of others: nothing where it is open anyway, null where
 * something is in the way that it cannot speak for.
 */
export function impliedBy(scene: CaseNow, instance: Instance): Implied | null {
  const { state, layout, statuses } = scene;
  const status = statuses.of(instance);
  if (status === 'open') return { steps: [], pass: false };
  if (status !== 'blocked' || !speakers(layout.protocol).has(instance.step.id)) return null;
  const steps = new Map<string, Instance>();
  let pass = false;
  const add = (speaker: Instance): boolean => {
    if (applies(state, layout, speaker) !== 'yes') return false;
    const missing = statuses.missing(speaker);
    const others = inTheWay(scene, missing);
    if (others === null || others.length === 0) return others !== null && missing.length === 0;
    return others.every((other) => {
      if (steps.has(other.key)) return true;
      if (isLed(scene, speaker.step, other)) {
        pass = true;
        return true;
      }
      const isSpoken = speaksFor(instance.step, other.step) || speaksFor(speaker.step, other.step);
      if (!isSpoken) return false;
      if (statuses.of(other) !== 'open' && !add(other)) return false;
      steps.set(other.key, other);
      return true;
    });
  };
  return add(instance) ? { steps: [...steps.values()], pass } : null;
}

/** What one press of several instances says of others, each once, in the order in which they were done. */
export function impliedByAll(scene: CaseNow, instances: readonly Instance[]): Implied {
  const said = instances.map((instance) => impliedBy(scene, instance));
  const steps = new Map(
    said.flatMap((each) => each?.steps ?? []).map((other) => [other.key, other]),
  );
  return { steps: [...steps.values()], pass: said.some((each) => each?.pass === true) };
}

/**
 * How long ago the last of what this waited for was done, judged by the longest: an act that was not
 * pressed lies between then and now.
 */
export function sinceKnown(
  { layout, state, now }: Pick<CaseNow, 'layout' | 'state' | 'now'>,
  instance: Instance,
): { readonly loMs: number; readonly hiMs: number } {
  let least = elapsed(AXIS_START, now);
  const look = (needs: readonly Need[], seen: Set<string>): void => {
    for (const need of needs) {
      if (seen.has(need.key)) continue;
      seen.add(need.key);
      const at = edgeInstant(state.runs[need.key], need.edge);
      if (at !== null) {
        const since = elapsed(at, now);
        if (since.hiMs < least.hiMs) least = since;
        continue;
      }
      look(layout.byKey.get(need.key)?.needs ?? [], seen);
    }
  };
  look(instance.needs, new Set());
  return least;
}
