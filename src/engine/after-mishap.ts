/**
 * What comes first while a way back is being carried out. People may do otherwise at any time. Pure; times in ms.
 */
import type { Layout } from './layout.ts';
import type { Draft } from './offer-draft.ts';
import type { Offer } from './view-types.ts';
import type { WayInHand } from './way-in-hand.ts';

/** A limit so near comes before what a mishap asks for. Common practice, no source. */
export const AGES_MS = 15 * 60_000;

interface Ranked {
  readonly draft: Draft;
  readonly offer: Offer;
}

/**
 * What runs on a subject although a way back says that it ends: gel on the wrong place is rinsed off now,
 * whatever its clock says.
 */
export function endsNow(ways: readonly WayInHand[], { phase, step, instances }: Draft): boolean {
  return ways.some(
    ({ wayBack: { from }, subjects }) =>
      phase === 'go-on' &&
      from?.step === step.id &&
      from.edge === 'start' &&
      instances.every(({ subject }) => subjects.includes(subject)),
  );
}

/** Whether a step is there for a way back alone, such as the wiping out, and is for what it was taken for. */
function isOpenedBy(
  subjects: Layout['subjects'],
  ways: readonly WayInHand[],
  { step, instances }: Draft,
): boolean {
  const doors = (step.onlyIf ?? []).flatMap((door) => ('wayBack' in door ? [door.wayBack] : []));
  return ways.some(
    ({ wayBack, subjects: taken }) =>
      doors.includes(wayBack.id) &&
      instances.every(({ subject }) =>
        taken.some((each) => subjects.linked(each, step.per).includes(subject)),
      ),
  );
}

const isNow = ({ draft, offer }: Ranked): boolean => draft.phase === 'begin' && offer.dueInMs <= 0;

const isNear = ({ offer }: Ranked): boolean => offer.slackMs !== null && offer.slackMs < AGES_MS;

/**
 * - Something runs that the way back says ends: its end.
 * - Something ages: the others, which need nothing but their turn, so that none waits for the late one.
 * - Of the mishap itself, the step that is there for it alone: soft cement is wiped out of a unit before its
 *   tooth is etched again.
 * - Nothing ages: what the way back asks, so that blood is off a unit before it dries.
 *
 * Nothing is moved that is not free: no limit is lost by it that can still be kept.
 */
export function afterMishap<R extends Ranked>(
  { subjects }: Layout,
  o: {
    readonly ways: readonly WayInHand[];
    readonly ranked: readonly R[];
    readonly isFree: (each: R) => boolean;
    /** What fell is looked for: nothing is put before that. */
    readonly isSearch: (each: R) => boolean;
  },
): readonly R[] {
  const { ways, ranked } = o;
  const [top] = ranked;
  if (top === undefined || ways.length === 0) return ranked;
  const ending = ranked.find((each) => endsNow(ways, each.draft) && o.isFree(each));
  const touching = ({ draft }: R): readonly WayInHand[] =>
    ways.filter((way) =>
      draft.instances.every(({ subject }) =>
        subjects.linked(subject, way.wayBack.per).some((each) => way.subjects.includes(each)),
      ),
    );
  const asked = new Set(ways.flatMap((way) => way.subjects));
  const ofTop = touching(top);
  const moved = (): R | undefined => {
    if (top.draft.phase === 'go-on' || o.isSearch(top)) return undefined;
    const free = ranked.filter((each) => isNow(each) && o.isFree(each));
    const other = free.find((each) => isNear(each) && touching(each).length === 0);
    if (isNear(top) && ofTop.length > 0 && other !== undefined) return other;
    return free.find(
      ({ draft }) =>
        isOpenedBy(subjects, ofTop, draft) ||
        (!isNear(top) && draft.instances.every(({ subject }) => asked.has(subject))),
    );
  };
  const first = ending ?? moved();
  return first === undefined ? ranked : [first, ...ranked.filter((each) => each !== first)];
}
