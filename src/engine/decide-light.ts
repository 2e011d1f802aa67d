/** Decides presses on the light: place by place, or a pass that tones lead through. */
import { err, ok } from '../base/result.ts';
import { type Pressed, refusal } from './commands.ts';
import { type Instance, surfacePlans } from './layout.ts';
import { allLed, isPassOver, placeId, plainPlace, positionId } from './light-pass.ts';
import { passTiming } from './pass-offers.ts';
import { type Decision, impliedEvents, type PressScene, refuseStatus } from './press-scene.ts';
import type { CaseEvent } from './types.ts';

/** The light that is on, as off. */
export function litEvents({ state, layout }: Pick<PressScene, 'state' | 'layout'>): CaseEvent[] {
  return layout.instances.flatMap(({ key, step, subject }) => {
    const lit = state.runs[key]?.lit;
    if (!lit) return [];
    const { surface, position } = lit;
    return [{ type: 'exposure-stopped', step: step.id, subject, surface, position }];
  });
}

/** Begins, stops or confirms a pass of light. */
export function decideLightPass(
  scene: PressScene,
  instances: readonly Instance[],
  p: Pressed,
): Decision {
  const { state, now } = scene;
  const { lightPass } = state;
  const { step, places = [], confirms } = p;
  // The pass before it is over, and the same press confirms it.
  const isGoingOn = confirms !== undefined && lightPass !== null && isPassOver(lightPass, now);
  if (p.kind === 'pass-begin') {
    const isRunning = lightPass?.running != null && !isGoingOn;
    const isOther = lightPass !== null && (isRunning || lightPass.step !== step);
    if (litEvents(scene).length > 0 || isOther) return err(refusal('light-is-on', { step }));
    if (!state.tonesHeard || places.length === 0)
      return err(refusal('wrong-press', { step, kind: p.kind }));
    for (const instance of instances) {
      if (scene.statuses.of(instance) === 'running') continue;
      const no = refuseStatus(scene, instance, 'open');
      if (no) return err(no);
    }
    const own = instances[0]?.step;
    if (own === undefined) return err(refusal('wrong-press', { step, kind: p.kind }));
    const owed = new Set(
      instances.flatMap((instance) =>
        surfacePlans(scene.layout, instance).flatMap(({ surface, positions }) =>
          Array.from({ length: positions }, (_, i) => `${instance.subject} ${surface} ${i + 1}`),
        ),
      ),
    );
    if (!places.every((each) => owed.has(positionId(each)) && each.setMs > 0)) {
      return err(refusal('wrong-press', { step, kind: p.kind }));
    }
    const timing = passTiming(scene, own, places);
    const begun = { type: 'light-pass-begun', step, ...timing } as const;
    if (lightPass === null || !isGoingOn) return ok([...impliedEvents(scene, instances), begun]);
    const known = new Set(allLed(lightPass).map(placeId));
    if (!confirms.every((each) => known.has(placeId(each)))) {
      return err(refusal('not-yet', { step, subject: confirms[0]?.subject ?? '' }));
    }
    const lit = confirms.map(plainPlace);
    const confirmed = { type: 'light-pass-confirmed', step, places: lit } as const;
    return ok([confirmed, ...impliedEvents(scene, instances), begun]);
  }
  if (lightPass === null || lightPass.step !== step) return err(refusal('light-is-off', { step }));
  if (p.kind === 'pass-stop') {
    if (lightPass.running === null) return err(refusal('light-is-off', { step }));
    return ok([{ type: 'light-pass-stopped', step }]);
  }
  // The tones are still leading: only a stop ends the pass before its last one.
  const isLeading = lightPass.running !== null && !isPassOver(lightPass, now);
  const known = new Set(isLeading ? [] : allLed(lightPass).map(placeId));
  if (isLeading || !places.every((each) => known.has(placeId(each)))) {
    return err(refusal('not-yet', { step, subject: places[0]?.subject ?? '' }));
  }
  return ok([{ type: 'light-pass-confirmed', step, places: places.map(plainPlace) }]);
}

export function decideLight(
  scene: PressScene,
  instances: readonly Instance[],
  p: Pressed,
): Decision {
  const off = litEvents(scene);
  if (scene.state.lightPass !== null) return err(refusal('light-is-on', { step: p.step }));
  if (p.kind === 'light-off') {
    return off.length > 0 ? ok(off) : err(refusal('light-is-off', { step: p.step }));
  }
  if (p.kind === 'light-on' && off.length > 0) {
    return err(refusal('light-is-on', { step: p.step }));
  }
  for (const instance of instances) {
    if (scene.statuses.of(instance) === 'running') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  const { step, surface, position = 1, setMs } = p;
  const [instance, ...others] = instances;
  const plans = instance ? surfacePlans(scene.layout, instance) : [];
  const positions = plans.find((plan) => plan.surface === surface)?.positions ?? 0;
  const isPlace = Number.isInteger(position) && position >= 1 && position <= positions;
  const isSet = setMs !== undefined && Number.isFinite(setMs) && setMs > 0;
  if (!instance || others.length > 0 || !surface || !isPlace || !isSet) {
    return err(refusal('wrong-press', { step, kind: p.kind }));
  }
  const { subject } = instance;
  return ok([
    ...impliedEvents(scene, instances),
    ...off,
    { type: 'exposure-started', step, subject, surface, position, setMs },
  ]);
}
