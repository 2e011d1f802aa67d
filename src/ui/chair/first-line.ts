/** What a way back asks first, in one line, until something is pressed for what it was taken for. */
import { layoutOf } from '../../engine/layout.ts';
import { waysInHand } from '../../engine/way-in-hand.ts';
import type { RunningCase } from '../../runtime/app-state.ts';

/** Three lines at the size of the chair's instruction. */
const LENGTH_MAX = 150;

/** Whole sentences from the first on, as many as there is room for. */
function opening(text: string): string {
  const [first = '', ...others] = text.split(/(?<=[.!?])\s+/);
  let told = first;
  for (const sentence of others) {
    if (told.length + 1 + sentence.length > LENGTH_MAX) break;
    told = `${told} ${sentence}`;
  }
  return told;
}

/** Null while no way back of what is in hand is being carried out. */
export function firstLine({ log, view }: Pick<RunningCase, 'log' | 'view'>): string | null {
  const layout = layoutOf(log.state);
  const top = view.attention.inHand;
  if (top === null) return null;
  const step = layout.protocol.steps.find(({ id }) => id === top.step);
  const own = waysInHand(log.state, layout).findLast(({ wayBack, subjects, hasVoided }) => {
    // Advice that takes nothing back is for now; the rest is for what it asks to be done again.
    const isAsked =
      wayBack.voids.length === 0 ||
      (wayBack.per !== 'case' && !hasVoided) ||
      wayBack.voids.some((each) => each.step === top.step) ||
      step?.onlyIf?.some((door) => 'wayBack' in door && door.wayBack === wayBack.id) === true;
    return (
      isAsked &&
      top.subjects.every((subject) =>
        layout.subjects.linked(subject, wayBack.per).some((each) => subjects.includes(each)),
      )
    );
  });
  return own === undefined ? null : opening(own.wayBack.proposal);
}
