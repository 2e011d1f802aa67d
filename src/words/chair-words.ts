/** Words of the chair screen, of its sheets, and of what a step asks to be typed. */
import { chair } from './en/chair.ts';
import { evidence, extra, sheet, wipe } from './en/chair-sheets.ts';
import { spoken } from './language.ts';

export const chairWords = spoken('chair', chair);
export const sheetWords = spoken('sheet', sheet);
export const wipeWords = spoken('wipe', wipe);
export const extraWords = spoken('extra', extra);
export const evidenceWords = spoken('evidence', evidence);

/** A light at this share of its own baseline or below it is told apart. Common practice, no source. */
const FAR_BELOW_PERCENT = 80;

/** How a reading of a light stands to that light's own baseline. */
export function baselineWords(percent: number): string {
  return percent <= FAR_BELOW_PERCENT
    ? evidenceWords.farBelowBaseline(percent)
    : evidenceWords.ofBaseline(percent);
}
