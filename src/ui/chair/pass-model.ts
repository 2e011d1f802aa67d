/** The places of a pass of light as rows: where its tones are, and what a press would confirm. Pure. */
import { placeId } from '../../engine/light-pass.ts';
import type { PassPlaceNow } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { formatSeconds } from '../../words/duration.ts';
import { stepOf } from '../../words/offer-words.ts';
import { passTexts, placeName } from '../../words/pass-words.ts';
import type { MarkShape } from '../parts/StateMark.tsx';
import { namingOf } from '../shared/arch-model.ts';

export interface PassRow {
  readonly id: string;
  /** "22, facial". */
  readonly name: string;
  readonly seconds: string;
  readonly state: PassPlaceNow['state'];
  readonly words: string;
  readonly shape: MarkShape;
  /** Whether a press would confirm it; null while nothing can be confirmed of it. */
  readonly isTicked: boolean | null;
}

const SHAPES: Readonly<Record<PassPlaceNow['state'], MarkShape>> = {
  led: 'full',
  lit: 'part',
  cut: 'cracked',
  'to-come': 'empty',
};

/** Whether the press in hand confirms the pass, or goes on with it: then its places stand in the middle. */
export function isPassAsked({ view }: RunningCase): boolean {
  const { asked, inHand } = view.attention;
  if (asked !== null || inHand === null) return false;
  const { kind, resumes, confirms } = inHand;
  return kind === 'pass-confirm' || resumes === true || confirms !== undefined;
}

/** Every place of the pass in its order; none where there is no pass. */
export function passRows(running: RunningCase): readonly PassRow[] {
  const { pass, offers } = running.view;
  if (pass === null) return [];
  const { spec } = namingOf(running);
  const confirm = offers.find(({ kind }) => kind === 'pass-confirm');
  const ticked = new Set(confirm?.places?.map(placeId));
  return pass.places.map((place): PassRow => {
    const { state, setMs } = place;
    const isTicked = confirm !== undefined && state === 'led' ? ticked.has(placeId(place)) : null;
    const base = {
      id: placeId(place),
      name: placeName(place, spec),
      seconds: formatSeconds(setMs, 'up'),
      state,
      isTicked,
    };
    if (isTicked === null) return { ...base, words: passTexts.states[state], shape: SHAPES[state] };
    return isTicked
      ? { ...base, words: passTexts.ticked, shape: 'full' }
      : { ...base, words: passTexts.unticked, shape: 'struck' };
  });
}

/** Whether light that could be paced is pressed place by place, because nobody is known to hear the tones. */
export function isSilent(running: RunningCase): boolean {
  const { log, view, isViewOnly } = running;
  const { inHand } = view.attention;
  const isLight = inHand?.kind === 'light-on' || inHand?.kind === 'light-move';
  if (!isLight || isViewOnly || log.state.tonesHeard) return false;
  return stepOf(namingOf(running).protocol, inHand.step)?.pressed?.kind === 'paced';
}
