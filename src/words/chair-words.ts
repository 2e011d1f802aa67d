/** Words of the chair screen, and of what a step asks to be typed. */
import { chair } from './en/chair.ts';
import { evidence } from './en/evidence.ts';
import { spoken } from './language.ts';

export const chairWords = spoken('chair', chair);
export const evidenceWords = spoken('evidence', evidence);

/** A light at this share of its own baseline or below it is told apart. Common practice, no source. */
const FAR_BELOW_PERCENT = 80;

/** How a reading of a light stands to that light's own baseline. */
export function baselineWords(percent: number): string {
  return percent <= FAR_BELOW_PERCENT
    ? evidenceWords.farBelowBaseline(percent)
    : evidenceWords.ofBaseline(percent);
}
