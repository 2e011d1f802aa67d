/**
 * The two likeliest mishaps for what is in hand, so that the way to each of them is one tap from the bar.
 * A list by what is done and to whom; common practice, no source. Only ways back that fit now are named,
 * each with the subjects of the press that it fits: where there are several, people say which one.
 */
import { type SubjectId, scopeOf } from '../protocol/subjects.ts';
import type { Mishap, Scope } from '../protocol/types.ts';
import type { Pressed } from './commands.ts';
import type { Layout } from './layout.ts';
import type { CaseState } from './types.ts';
import { waysBackOffered } from './way-back-asked.ts';
import { waysInHand } from './way-in-hand.ts';
import type { WayBackOffer } from './ways-back.ts';

/** How many stand beside the bar by name. */
const NAMED_MAX = 2;

/** Light is being given. */
const UNDER_LIGHT: readonly Mishap[] = [
  'light-failed',
  'unit-will-not-seat',
  'blood',
  'light-weak',
  'saliva',
];

const BY_SCOPE: Readonly<Record<Scope, readonly Mishap[]>> = {
  unit: ['unit-will-not-seat', 'unit-dropped', 'blood', 'saliva', 'left-in-light'],
  tooth: ['saliva', 'blood', 'haemostatic-on-tooth', 'dried-out'],
  mix: ['gelled-early', 'over-time', 'light-failed'],
  contact: ['blood', 'over-time', 'light-failed'],
  case: ['light-failed', 'saliva', 'blood', 'unit-dropped'],
};

function likely({ layout, inHand }: { layout: Layout; inHand: Pressed }): readonly Mishap[] {
  const step = layout.protocol.steps.find(({ id }) => id === inHand.step);
  if (step?.action.kind === 'expose') return UNDER_LIGHT;
  return BY_SCOPE[scopeOf(inHand.subjects[0] ?? 'case')];
}

/** The likeliest two that fit what is in hand, the likelier first; fewer where fewer fit. */
export function likelyMishaps(
  state: CaseState,
  layout: Layout,
  inHand: Pressed | null,
): readonly WayBackOffer[] {
  if (inHand === null) return [];
  const ways = waysInHand(state, layout);
  const fitting = waysBackOffered(state, layout).flatMap(
    ({ wayBack, subjects }): WayBackOffer[] => {
      const touched: ReadonlySet<SubjectId> = new Set(
        inHand.subjects.flatMap((s) => layout.subjects.linked(s, wayBack.per)),
      );
      // What is being put right has happened: it is not offered again.
      const inWork = ways.filter((way) => way.wayBack.id === wayBack.id);
      const own = subjects.filter(
        (s) => touched.has(s) && !inWork.some((way) => way.subjects.includes(s)),
      );
      return own.length === 0 ? [] : [{ wayBack, subjects: own }];
    },
  );
  return likely({ layout, inHand })
    .flatMap((mishap) => fitting.find(({ wayBack }) => wayBack.mishap === mishap) ?? [])
    .slice(0, NAMED_MAX);
}
