/** What is heard and read of a pass of light: its places by name. */
import type { CaseLog } from '../engine/log.ts';
import type { PassPlace } from '../engine/pressing-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { pass } from './en/pass.ts';
import { spoken } from './language.ts';
import { subjectLabel, surfaceOn, teethUnder } from './subject-words.ts';

export const passTexts = spoken('pass', pass);

/** "22, facial"; the spot where a surface has several, and which press where a spot has several. */
export function placeName(place: PassPlace, spec: CaseFile): string {
  const { subject: id, position, nth } = place;
  const subject = subjectLabel(id, spec);
  const surface = surfaceOn(place.surface, teethUnder([id], spec));
  const named =
    position === 1
      ? passTexts.place({ subject, surface })
      : passTexts.placeSpot({ subject, surface, at: position });
  return nth === undefined ? named : passTexts.again({ place: named, nth });
}

/** What a tone of a pass says: the light goes to the next place, or the pass is over. */
export interface PassTone {
  readonly at: 'start' | 'end';
  /** After the end of one place: the one that is next, null at the last. */
  readonly next: PassPlace | null;
}

/** The words after a tone; null where the tone says enough. */
export function passWords({ state }: Pick<CaseLog, 'state'>, tone: PassTone): string | null {
  if (tone.at === 'start') return null;
  if (tone.next === null) return passTexts.over;
  const spec = { ...state.opened.spec, notation: state.notation };
  return passTexts.change(placeName(tone.next, spec));
}
