/**
 * What the light should do next. There is one light: while it is on, the only offers are to stop it
 * early, to move it on when its set time is over, or to put it away. A tooth rests between two
 * exposures, so the next one is the first in the walk whose tooth has rested. Times in ms.
 */
import { elapsed } from './axis.ts';
import { credited, exposureNeeds, nextPressMs } from './exposures.ts';
import { impliedBy } from './implied.ts';
import { type Instance, type Layout, restMs, shareTooth, surfacePlans } from './layout.ts';
import type { CaseNow, Draft } from './offer-draft.ts';
import { nextPass, passOffers } from './pass-offers.ts';
import { restLeftMs } from './rest-left.ts';
import type { CaseInstant } from './types.ts';
import type { Offer } from './view-types.ts';

interface Candidate {
  readonly instance: Instance;
  readonly surface: NonNullable<Offer['surface']>;
  readonly position: number;
  readonly positions: number;
  readonly setMs: number;
  readonly waitMs: number;
  /** Place in the walk: lower goes first. */
  readonly rank: number;
}

interface Lit {
  readonly instance: Instance;
  readonly since: CaseInstant;
  readonly setMs: number;
  readonly surface: NonNullable<Offer['surface']>;
  readonly position: number;
}

const exposing = new WeakMap<Layout, readonly Instance[]>();

/** What the light is shone on, in the order of the case; the same list for one layout. */
function exposingOf(layout: Layout): readonly Instance[] {
  const hit = exposing.get(layout);
  if (hit) return hit;
  const made = layout.instances.filter(({ step }) => step.action.kind === 'expose');
  exposing.set(layout, made);
  return made;
}

function litNow(scene: CaseNow): Lit | null {
  for (const instance of exposingOf(scene.layout)) {
    const lit = scene.state.runs[instance.key]?.lit;
    if (lit) return { instance, ...lit };
  }
  return null;
}

/** A tooth on which the light is on now has all of its rest before it. */
function waitOf(scene: CaseNow, instance: Instance, lit: Lit | null): number {
  const isLit = lit !== null && shareTooth(scene.layout, lit.instance.subject, instance.subject);
  return isLit ? restMs(scene.layout, instance) : restLeftMs(scene, instance);
}

function candidatesOf(scene: CaseNow, instance: Instance, lit: Lit | null): Candidate[] {
  const { action } = instance.step;
  const status = scene.statuses.of(instance);
  if (action.kind !== 'expose') return [];
  const implied = status === 'blocked' ? impliedBy(scene, instance) : null;
  const isOpen = status === 'open' || (implied !== null && !implied.pass);
  if (!isOpen && status !== 'running') return [];
  const run = scene.state.runs[instance.key];
  const waitMs = waitOf(scene, instance, lit);
  const plans = surfacePlans(scene.layout, instance);
  return exposureNeeds(scene.layout, instance, run)
    .map((need) => {
      const here =
        lit?.instance === instance &&
        lit.surface === need.surface &&
        lit.position === need.position;
      const nowGiven = here && lit ? credited(lit.since, scene.now, lit.setMs).loMs : 0;
      return { need, givenMs: need.givenLoMs + nowGiven };
    })
    .filter(({ need, givenMs }) => givenMs < need.setMs)
    .map(({ need, givenMs }) => {
      const surfaceIndex = plans.findIndex((p) => p.surface === need.surface);
      const unitIndex = instance.subjectIndex;
      // Surface by surface, the next tooth comes before the next position on this one, so that
      // every tooth cools as long as the case allows.
      const [major, middle, minor] =
        action.walk === 'by-surface'
          ? [surfaceIndex, need.position, unitIndex]
          : [unitIndex, surfaceIndex, need.position];
      return {
        instance,
        surface: need.surface,
        position: need.position,
        positions: need.positions,
        setMs: nextPressMs(need.plan, givenMs),
        waitMs,
        rank: ((instance.stepIndex * 1000 + major) * 1000 + middle) * 1000 + minor,
      };
    });
}

/** The next place for the light: rested teeth first, then the walk. */
function nextExposure(scene: CaseNow, lit: Lit | null): Candidate | null {
  const all = exposingOf(scene.layout).flatMap((i) => candidatesOf(scene, i, lit));
  if (all.length === 0) return null;
  const firstStep = Math.min(...all.map((c) => c.instance.stepIndex));
  const sorted = all
    .filter((c) => c.instance.stepIndex === firstStep)
    .sort((a, b) => a.waitMs - b.waitMs || a.rank - b.rank);
  return sorted[0] ?? null;
}

function draftLight(o: {
  readonly kind: 'light-on' | 'light-move' | 'light-off';
  readonly instance: Instance;
  readonly surface: NonNullable<Offer['surface']>;
  readonly position: number;
  readonly positions: number;
  readonly setMs: number;
  readonly dueInMs: number;
}): Draft {
  const { instance, kind, surface, position } = o;
  return {
    offer: {
      id: `${kind} ${instance.key} ${surface} ${position}`,
      step: instance.step.id,
      subjects: [instance.subject],
      kind,
      surface,
      position,
      setMs: o.setMs,
      count: position,
      of: o.positions,
      dueInMs: o.dueInMs,
      slackMs: null,
      boundBy: null,
    },
    instances: [instance],
    step: instance.step,
    round: instance.round,
    phase: kind === 'light-on' ? 'begin' : 'go-on',
    busyMs: kind === 'light-off' ? 0 : o.setMs,
  };
}

/** When a tooth that still owes light will have rested, for each that has not yet. */
export function lightTurnsInMs(scene: CaseNow): number[] {
  const lit = litNow(scene);
  return exposingOf(scene.layout)
    .filter((i) => lit === null || !shareTooth(scene.layout, i.subject, lit.instance.subject))
    .flatMap((i) => candidatesOf(scene, i, lit).slice(0, 1))
    .map((c) => c.waitMs)
    .filter((ms) => ms > 0);
}

/**
 * At most two offers: what the light should do next, and to switch it off. Where tones are heard and the
 * step is paced, the offers of a pass.
 */
export function lightOffers(scene: CaseNow): Draft[] {
  if (scene.state.lightPass !== null) return passOffers(scene);
  const paced = nextPass(scene, exposingOf(scene.layout));
  if (paced !== null) return [paced];
  const lit = litNow(scene);
  const next = nextExposure(scene, lit);
  if (!lit) {
    return next ? [draftLight({ ...next, kind: 'light-on', dueInMs: next.waitMs })] : [];
  }
  const leftMs = Math.max(0, lit.setMs - elapsed(lit.since, scene.now).loMs);
  const needs = exposureNeeds(scene.layout, lit.instance, scene.state.runs[lit.instance.key]);
  // A plan that was changed while the light is on may no longer ask for this surface.
  const own = needs.find((n) => n.surface === lit.surface && n.position === lit.position);
  const positions = own?.positions ?? lit.position;
  const off = draftLight({ ...lit, positions, kind: 'light-off', dueInMs: leftMs });
  if (leftMs > 0 || !next || next.waitMs > 0) return [off];
  return [draftLight({ ...next, kind: 'light-move', dueInMs: 0 }), off];
}
