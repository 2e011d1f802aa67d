/**
 * Words of the lines that are read aloud, in the opening pause and before a unit or a mix is loaded.
 * The record holds them as they were read, with FDI numbers (ISO 3950); the screen names teeth as
 * the person who reads does.
 */
import { unreachable } from '../base/assert.ts';
import { MS_PER_MINUTE } from '../base/units.ts';
import type { Conditioning } from '../engine/conditioning.ts';
import type { ShadeTrial } from '../engine/material-types.ts';
import type { ReadBackLine, TellReadBack } from '../engine/read-back.ts';
import type { CaseState } from '../engine/types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { bareId, unitSubject } from '../protocol/subjects.ts';
import { factValue } from './condition-words.ts';
import { readBack } from './en/read-back.ts';
import { spoken } from './language.ts';
import { materialForms } from './material-words.ts';

const words = spoken('readBack', readBack);

type NameOf = (subject: SubjectId) => string;

type Line<Code extends ReadBackLine['code']> = Extract<ReadBackLine, { readonly code: Code }>;

/** FDI numbers; said to be such where the case itself names teeth otherwise. */
function recordNames({ spec }: CaseState['opened']): NameOf {
  if (spec.notation === 'fdi') return bareId;
  return (subject) => {
    const unit = spec.units.find((u) => unitSubject(u.id) === subject);
    return words.fdi(unit?.teeth.join('–') ?? bareId(subject));
  };
}

/** "paste A with opaquer 10 %". */
export function shadeWords({ paste, modifier, sharePercent: percent }: ShadeTrial): string {
  if (modifier === undefined) return words.paste(paste);
  return percent === undefined
    ? words.pasteWith({ paste, modifier })
    : words.pasteWithShare({ paste, modifier, percent });
}

function unitWords({ teeth, pontics, kind }: Line<'unit'>, nameOf: NameOf): string {
  const named = (of: readonly SubjectId[]) => of.map(nameOf).join(' ');
  const own = named(teeth);
  const all =
    pontics.length === 0 ? own : words.withPontics({ teeth: own, pontics: named(pontics) });
  const [restoration = '', material = '', ...shade] = kind;
  return words.unit([all, restoration, materialForms(material).inLine, ...shade]);
}

function slotWords({ label, materialClass, lot, expiry }: Line<'slot'>): string {
  if (lot === null) return words.noLot({ label, materialClass });
  return expiry === null
    ? words.lot({ label, materialClass, lot })
    : words.lotTo({ label, materialClass, lot, expiry });
}

function recipeWords({ recipe, planned }: Line<'recipe'>): string {
  if (recipe.accepted === null) {
    return planned === null ? words.noShade : words.planned({ shade: words.noShade, planned });
  }
  const accepted = shadeWords(recipe.accepted);
  const last = recipe.triedSince.at(-1);
  return last === undefined
    ? words.shade(accepted)
    : words.shadeTriedSince({ recipe: accepted, since: shadeWords(last) });
}

/** "Shade accepted, paste not noted, planned A1 for 11 21, A2 for 12". */
function untoldWords({ chosen, isOne, planned }: Line<'shade-untold'>, nameOf: NameOf): string {
  const first = chosen === null ? words.noShade : isOne ? chosen : words.noPaste(chosen);
  const [only, ...more] = planned;
  if (only === undefined) return first;
  if (more.length === 0) return words.planned({ shade: first, planned: only.shade });
  const each = planned.map(({ shade, units }) =>
    words.plannedFor({ shade, units: units.map(nameOf).join(' ') }),
  );
  return words.planned({ shade: first, planned: each.join(', ') });
}

function minuteWords(ms: number): string {
  const whole = Math.floor(ms / MS_PER_MINUTE);
  const [hours, minutes] = [Math.floor(whole / 60), whole % 60];
  if (hours === 0) return words.minutes(minutes);
  return minutes === 0 ? words.hours(hours) : words.hoursAndMinutes({ hours, minutes });
}

function spanWords(loMs: number, hiMs: number): string {
  const lo = minuteWords(loMs);
  if (!Number.isFinite(hiMs)) return words.atLeast(lo);
  const hi = minuteWords(hiMs);
  return lo === hi ? lo : words.span({ lo, hi });
}

/** "Clean and prime again: primed 1 h 4 min ago, limit 1 h passed (practice)". */
function conditioningWords({ repeat, reasons, since, limitMs }: Conditioning): string {
  const span = spanWords(since?.loMs ?? 0, since?.hiMs ?? 0);
  const primed = { span, limit: minuteWords(limitMs) };
  const told = reasons.map((code) => words.reason[code](primed));
  return words.repeat[repeat](words.reasons(told));
}

function lineWords(line: Exclude<ReadBackLine, Line<'readiness'>>, nameOf: NameOf): string {
  const ofUnit = (unit: SubjectId | null, told: string) =>
    unit === null ? told : words.ofUnit({ unit: nameOf(unit), words: told });
  switch (line.code) {
    case 'unit':
      return unitWords(line, nameOf);
    case 'known':
      return words.known({
        of: nameOf(line.of),
        values: line.values.map(({ fact, value }) => factValue(fact, value)),
      });
    case 'protocol':
      return words.protocol(line);
    case 'slot':
      return slotWords(line);
    case 'allergies':
      return line.words ?? words.noAllergies;
    case 'person':
      return words.person({ label: line.label, role: words.roles[line.role] });
    case 'recipe':
      return ofUnit(line.unit, recipeWords(line));
    case 'conditioning':
      return ofUnit(line.unit, conditioningWords(line.found));
    case 'shade-untold':
      return untoldWords(line, nameOf);
    case 'unlike-mix':
      return words.unlikeMix(line.units.map(nameOf));
    case 'shades-differ':
      return words.shadesDiffer;
    default:
      return unreachable(line);
  }
}

/** Units of which the same is true stand in one line, where the first of them stands. */
function readinessWords(lines: readonly Line<'readiness'>[], nameOf: NameOf): readonly string[] {
  const byWords = new Map<string, string[]>();
  for (const { unit, found } of lines) {
    const told = conditioningWords(found);
    byWords.set(told, [...(byWords.get(told) ?? []), nameOf(unit)]);
  }
  return [...byWords].map(([told, units]) => words.ofUnit({ unit: units.join(' '), words: told }));
}

/** The lines as they are read aloud, with the names that the reader uses. */
export function readBackWords(
  lines: readonly ReadBackLine[],
  { nameOf }: { readonly nameOf: NameOf },
): readonly string[] {
  const readiness = lines.filter((line) => line.code === 'readiness');
  const others = lines.filter((line) => line.code !== 'readiness');
  return [...others.map((line) => lineWords(line, nameOf)), ...readinessWords(readiness, nameOf)];
}

/** What the record holds of them. */
export const tellReadBack: TellReadBack = (lines, opened) =>
  readBackWords(lines, { nameOf: recordNames(opened) }).join('; ');
