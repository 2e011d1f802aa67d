/**
 * Which ways back the protocol knows for a mishap at this point of the work, for whom, and exactly
 * which runs each of them would void. Proposes only; people decide.
 */

import { allHold } from '../protocol/conditions.ts';
import { standingIn } from '../protocol/own-step.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { scopeOf } from '../protocol/subjects.ts';
import type { Mishap, Moment, WayBack } from '../protocol/types.ts';
import { edgeInstant } from './edge-instant.ts';
import { givenUpUnits, isGivenUp } from './given-up.ts';
import { instanceKey, type Layout } from './layout.ts';
import type { CaseState, InstanceKey } from './types.ts';

export interface WayBackOffer {
  readonly wayBack: WayBack;
  /** Subjects at the stage that this way back is for. */
  readonly subjects: readonly SubjectId[];
}

interface Situation {
  readonly state: CaseState;
  readonly layout: Layout;
}

function hasHappened(
  o: Situation & { readonly subject: SubjectId; readonly moment: Moment },
): boolean {
  const step = o.layout.protocol.steps.find((s) => s.id === o.moment.step);
  if (!step) return false;
  const at = (key: InstanceKey, edge: Moment['edge']): boolean => {
    // Where a step does not belong to the subject, the work is past it once that is done before.
    const needs = o.layout.absent.get(key);
    if (needs !== undefined) return needs.length > 0 && needs.every((n) => at(n.key, n.edge));
    return edgeInstant(o.state.runs[key], edge) !== null;
  };
  return o.layout.subjects
    .linked(o.subject, step.per)
    .some((s) => at(instanceKey(step.id, s), o.moment.edge));
}

/**
 * Whether a way back is over for a subject. A mix is through with a step when all its units are: as
 * long as one of them is not, its cement can still be late.
 */
function isOver(scene: Situation, wayBack: WayBack, subject: SubjectId): boolean {
  const { until: moment } = wayBack;
  if (moment === undefined) return false;
  if (scopeOf(subject) !== 'mix') return hasHappened({ ...scene, subject, moment });
  const givenUp = givenUpUnits(scene.state, scene.layout);
  const units = scene.layout.subjects.linked(subject, 'unit').filter((u) => !givenUp.has(u));
  return units.length > 0 && units.every((unit) => isOver(scene, wayBack, unit));
}

/** Whether what the case file says of a subject lets it take this way back. */
function belongs(
  { state, layout, subject }: Situation & { subject: SubjectId },
  { where }: WayBack,
) {
  if (where === undefined) return true;
  const { spec, protocol } = state.opened;
  const stands = standingIn(spec, layout.subjects, subject);
  return allHold(where, { spec, protocol }, stands);
}

/** The ways back that fit now, in document order; none for a unit that was set aside. */
export function waysBackNow(state: CaseState, layout: Layout, mishap?: Mishap): WayBackOffer[] {
  const givenUp = givenUpUnits(state, layout);
  return layout.protocol.waysBack
    .filter((w) => mishap === undefined || w.mishap === mishap)
    .map((wayBack) => ({
      wayBack,
      subjects: layout.subjects.order[wayBack.per].filter((subject) => {
        const at = { state, layout, subject };
        const begun = !wayBack.from || hasHappened({ ...at, moment: wayBack.from });
        const ended = isOver(at, wayBack, subject);
        if (!belongs(at, wayBack)) return false;
        return begun && !ended && !isGivenUp(givenUp, layout, subject);
      }),
    }))
    .filter((offer) => offer.subjects.length > 0);
}

/**
 * The runs that a way back voids for these subjects: only what has been begun, and nothing of a
 * unit that was set aside.
 */
export function voidedBy(o: {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly wayBack: WayBack;
  readonly subjects: readonly SubjectId[];
}): InstanceKey[] {
  const givenUp = givenUpUnits(o.state, o.layout);
  const hasBegun = (subject: SubjectId, step: string) =>
    hasHappened({ ...o, subject, moment: { step, edge: 'start' } });
  const keys = o.wayBack.voids.flatMap(({ step: id, link, onlyAfter }) => {
    const step = o.layout.protocol.steps.find((s) => s.id === id);
    if (!step) return [];
    const touched =
      link === 'all'
        ? o.layout.subjects.order[step.per]
        : o.subjects.flatMap((s) => o.layout.subjects.linked(s, step.per));
    const counts = (s: SubjectId) => {
      // A unit of a mix that is through already keeps what it has.
      const isThrough = o.wayBack.per === 'mix' && scopeOf(s) === 'unit' && isOver(o, o.wayBack, s);
      return !isThrough && (onlyAfter === undefined || hasBegun(s, onlyAfter));
    };
    return touched
      .filter((s) => counts(s) && !isGivenUp(givenUp, o.layout, s))
      .map((s) => instanceKey(id, s));
  });
  return [...new Set(keys)].filter((key) => o.state.runs[key] !== undefined);
}
