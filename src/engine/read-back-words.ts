/**
 * Words of the lines that a press records when a unit or a mix is about to be loaded. They stand in
 * the engine, by code, because the record holds them as they were read. Teeth are FDI numbers.
 */
import { MS_PER_MINUTE } from '../base/units.ts';
import type { Conditioning, ConditioningCode, Repeat } from './conditioning.ts';
import type { ShadeTrial } from './material-types.ts';
import type { Recipe } from './shade-recipe.ts';

export function shadeWords({ paste, modifier, sharePercent }: ShadeTrial): string {
  if (modifier === undefined) return `paste ${paste}`;
  const share = sharePercent === undefined ? '' : ` ${sharePercent} %`;
  return `paste ${paste} with ${modifier}${share}`;
}

/** "Shade: paste A2 with opaquer 10 %". */
export function recipeWords({ accepted, triedSince }: Recipe, planned: string | undefined): string {
  if (accepted === null) {
    return planned === undefined
      ? 'Shade: no accepted trial noted'
      : `Shade: no accepted trial noted, planned ${planned}`;
  }
  const last = triedSince.at(-1);
  const since = last === undefined ? '' : `; tried since, not accepted: ${shadeWords(last)}`;
  return `Shade: ${shadeWords(accepted)}${since}`;
}

const REPEAT_WORDS: Readonly<Record<Repeat, string>> = {
  nothing: 'Nothing is repeated',
  priming: 'Clean and prime again',
  conditioning: 'Condition and prime again',
};

const minutes = (ms: number): string => {
  const whole = Math.floor(ms / MS_PER_MINUTE);
  const hours = Math.floor(whole / 60);
  if (whole % 60 === 0 && hours > 0) return `${hours} h`;
  return hours === 0 ? `${whole} min` : `${hours} h ${whole % 60} min`;
};

function reasonWords(code: ConditioningCode, { since, limitMs }: Conditioning): string {
  const lo = minutes(since?.loMs ?? 0);
  const hi = minutes(since?.hiMs ?? 0);
  const span = lo === hi ? lo : `${lo} to ${hi}`;
  const limit = minutes(limitMs);
  const words: Readonly<Record<ConditioningCode, string>> = {
    direct: `primed ${span} ago, limit ${limit}`,
    'not-primed': 'not primed',
    'limit-passed': `primed ${span} ago, limit ${limit} passed`,
    'limit-unsure': `primed ${span} ago, limit ${limit} may have passed`,
    overnight: `primed ${span} ago, left overnight`,
    'overnight-unsure': `primed ${span} ago, perhaps left overnight`,
    'not-cleaned': 'try-in paste was not cleaned out',
    saliva: 'saliva in the primed unit',
    blood: 'blood in the primed unit',
    'left-in-light': 'primed unit left in light',
    'unit-dropped': 'the unit fell after priming',
  };
  return words[code];
}

/** "Clean and prime again: primed 1 h 4 min ago, limit 1 h passed (practice)". */
export function conditioningWords(found: Conditioning): string {
  const reasons = found.reasons.map((code) => reasonWords(code, found)).join('; ');
  return `${REPEAT_WORDS[found.repeat]}: ${reasons} (practice)`;
}

export const ofUnit = (name: string, words: string): string => `${name}: ${words}`;

export const unlikeMix = (names: readonly string[]): string =>
  `Not the shade of ${names.join(', ')} in the same mix`;

export const SHADES_DIFFER = 'Units of this mix differ in shade';
