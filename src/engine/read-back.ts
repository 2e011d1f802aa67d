/**
 * What is read aloud in the opening pause, as the case file and the protocol have it, so that the
 * record holds the value and not a tick. Teeth are FDI numbers (ISO 3950) in the record; the screen
 * names them as the person who reads does.
 */
import { unreachable } from '../base/assert.ts';
import { bareId, toothSubject, unitSubject } from '../protocol/subjects.ts';
import type { MaterialSlot, ReadBack, Step, Unit } from '../protocol/types.ts';
import { conditioningOf } from './conditioning.ts';
import { layoutOf } from './layout.ts';
import {
  conditioningWords,
  ofUnit,
  recipeWords,
  SHADES_DIFFER,
  unlikeMix,
} from './read-back-words.ts';
import { isSameRecipe, recipeOf } from './shade-recipe.ts';
import type { CaseInstant, CaseState, SubjectId } from './types.ts';

/** When it is read, and for which subjects. */
export interface Reading {
  readonly now: CaseInstant;
  readonly subjects: readonly SubjectId[];
  /** What teeth and units are called; as the record does when absent. */
  readonly nameOf?: (subject: SubjectId) => string;
}

type Known = Pick<CaseState, 'opened' | 'materials'>;

type NameOf = NonNullable<Reading['nameOf']>;

/** The record holds FDI numbers, and says so where the case itself names teeth otherwise. */
function recordNames({ spec }: CaseState['opened']): NameOf {
  if (spec.notation === 'fdi') return bareId;
  return (subject) => {
    const id = bareId(subject);
    const unit = spec.units.find((u) => unitSubject(u.id) === subject);
    return `FDI ${unit?.teeth.join('–') ?? id}`;
  };
}

function unitLine(unit: Unit, nameOf: NameOf): string {
  const named = (fdi: readonly string[]) => fdi.map((t) => nameOf(toothSubject(t))).join(' ');
  const teeth = named(unit.teeth);
  const pontics = unit.pontics ? ` (+ ${named(unit.pontics)})` : '';
  return [`${teeth}${pontics}`, unit.restoration, unit.material, unit.shade]
    .filter((part) => part !== undefined)
    .join(', ');
}

function slotLine(slot: MaterialSlot, known: Known): string {
  const named = known.materials[slot.id]?.at(-1)?.material;
  const lot = named ? `lot ${named.lot}` : 'lot not named';
  const expiry = named?.expiry === undefined ? [] : [`to ${named.expiry}`];
  return [`${slot.label}: ${slot.materialClass}`, lot, ...expiry].join(', ');
}

/** What a unit is loaded with, and whether it is ready: for one unit, or for each of its mix. */
function loadingLines(
  state: CaseState,
  { now, subjects, nameOf = recordNames(state.opened) }: Reading,
): readonly string[] {
  const layout = layoutOf(state);
  const { spec } = state.opened;
  const units = subjects.flatMap((s) => layout.subjects.linked(s, 'unit'));
  const recipes = units.map((unit) => recipeOf(state, unit));
  const isOne = units.length === 1;
  const lines = recipes.flatMap((recipe) => {
    const planned = spec.units.find((u) => unitSubject(u.id) === recipe.unit)?.shade;
    const found = conditioningOf({ state, layout, unit: recipe.unit, now });
    const own = [recipeWords(recipe, planned), ...(found ? [conditioningWords(found)] : [])];
    return isOne ? own : own.map((words) => ofUnit(nameOf(recipe.unit), words));
  });
  const mixed = units.flatMap((unit) =>
    layout.subjects.linked(unit, 'mix').flatMap((mix) => layout.subjects.linked(mix, 'unit')),
  );
  const others = [...new Set(mixed)].map((unit) => recipeOf(state, unit));
  const unlike = others.filter((other) => recipes.some((own) => !isSameRecipe(own, other)));
  if (unlike.length === 0) return lines;
  return [...lines, isOne ? unlikeMix(unlike.map((r) => nameOf(r.unit))) : SHADES_DIFFER];
}

/** Whether each unit must be conditioned or primed again, those of which the same is true together. */
function readinessLines(
  state: CaseState,
  { now, subjects, nameOf = recordNames(state.opened) }: Reading,
): readonly string[] {
  const layout = layoutOf(state);
  const byWords = new Map<string, string[]>();
  for (const unit of subjects.flatMap((s) => layout.subjects.linked(s, 'unit'))) {
    const found = conditioningOf({ state, layout, unit, now });
    if (found === null) continue;
    const words = conditioningWords(found);
    byWords.set(words, [...(byWords.get(words) ?? []), nameOf(unit)]);
  }
  return [...byWords].map(([words, units]) => `${units.join(' ')}: ${words}`);
}

/** One line for each thing that is read aloud. */
export function readBackLines(known: CaseState, of: ReadBack, reading: Reading): readonly string[] {
  const { spec, protocol } = known.opened;
  switch (of) {
    case 'teeth':
      return spec.units.map((unit) => unitLine(unit, reading.nameOf ?? recordNames(known.opened)));
    case 'protocol':
      return [`${protocol.title}, revision ${protocol.revision}`];
    case 'materials':
      return protocol.slots.map((s) => slotLine(s, known));
    case 'allergies':
      return [spec.allergies ?? 'not noted'];
    case 'loading':
      return loadingLines(known, reading);
    case 'readiness':
      return readinessLines(known, reading);
    case 'people':
      return spec.people.map((p) => `${p.label}, ${p.role}`);
    default:
      return unreachable(of);
  }
}

/** The value that a press on this step records by itself; null when it has none. */
export function readBackOf(
  known: CaseState,
  step: Step | undefined,
  reading: Reading,
): string | null {
  const action = step?.action;
  const evidence = action && 'evidence' in action ? action.evidence : undefined;
  return evidence?.kind === 'read-back'
    ? readBackLines(known, evidence.of, reading).join('; ')
    : null;
}
