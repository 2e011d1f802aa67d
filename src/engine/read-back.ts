/**
 * What is read aloud in the opening pause and before loading, as the case file, the protocol and the
 * log have it, so that the record holds the value and not a tick. Told by code: the words and the
 * names of teeth and units are those of whoever tells it.
 */
import { unreachable } from '../base/assert.ts';
import type { Unit } from '../protocol/case-types.ts';
import { askedFacts, type Standing, valuesOf } from '../protocol/conditions.ts';
import type { Fact } from '../protocol/facts.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { toothSubject, unitSubject } from '../protocol/subjects.ts';
import type { MaterialSlot, ReadBack, Role, Step } from '../protocol/types.ts';
import { type Conditioning, conditioningOf } from './conditioning.ts';
import { layoutOf } from './layout.ts';
import { isSameRecipe, isUntold, type Recipe, recipeOf, shadeChoice } from './shade-recipe.ts';
import type { CaseInstant, CaseState } from './types.ts';

/** One line that is read aloud. */
export type ReadBackLine =
  | {
      readonly code: 'unit';
      readonly teeth: readonly SubjectId[];
      readonly pontics: readonly SubjectId[];
      /** Kind, material and shade, as the case file has them. */
      readonly kind: readonly string[];
    }
  /** What is known of a tooth or a unit before the work, value by value, as the case file has it. */
  | {
      readonly code: 'known';
      readonly of: SubjectId;
      readonly values: readonly { readonly fact: Fact; readonly value: string }[];
    }
  | { readonly code: 'protocol'; readonly title: string; readonly revision: number }
  | {
      readonly code: 'slot';
      readonly label: string;
      readonly materialClass: string;
      /** Null while no lot is named. */
      readonly lot: string | null;
      /** The last day of use, ISO 8601. */
      readonly expiry: string | null;
    }
  /** Null when nothing was noted. */
  | { readonly code: 'allergies'; readonly words: string | null }
  | { readonly code: 'person'; readonly label: string; readonly role: Role }
  /** Shade and readiness before loading; `unit` is null where the press is about one unit alone. */
  | {
      readonly code: 'recipe';
      readonly unit: SubjectId | null;
      readonly recipe: Recipe;
      readonly planned: string | null;
    }
  | {
      readonly code: 'conditioning';
      readonly unit: SubjectId | null;
      readonly found: Conditioning;
    }
  /** No trial was noted: what was pressed, and what is planned, once for all of them. */
  | {
      readonly code: 'shade-untold';
      /** The words of the press that accepted it; null when there was none. */
      readonly chosen: string | null;
      /** One unit alone needs no name. */
      readonly isOne: boolean;
      readonly planned: readonly { readonly shade: string; readonly units: readonly SubjectId[] }[];
    }
  | { readonly code: 'unlike-mix'; readonly units: readonly SubjectId[] }
  | { readonly code: 'shades-differ' }
  /** Whether a unit must be conditioned or primed again; told together where the same is true. */
  | { readonly code: 'readiness'; readonly unit: SubjectId; readonly found: Conditioning };

/** Puts into words what a press records as read aloud. */
export type TellReadBack = (lines: readonly ReadBackLine[], opened: CaseState['opened']) => string;

/** When it is read, and for which subjects. */
interface ReadAt {
  readonly now: CaseInstant;
  readonly subjects: readonly SubjectId[];
}

type Known = Pick<CaseState, 'opened' | 'materials'>;

function unitLine({ teeth, pontics, restoration, material, shade }: Unit): ReadBackLine {
  return {
    code: 'unit',
    teeth: teeth.map(toothSubject),
    pontics: (pontics ?? []).map(toothSubject),
    kind: [restoration, material, ...(shade === undefined ? [] : [shade])],
  };
}

/** What steps and times depend on, so that a wrong answer is heard before it is worked by. */
function knownLines({ spec, protocol }: CaseState['opened']): readonly ReadBackLine[] {
  const asked = askedFacts(protocol);
  const line = (of: SubjectId, facts: readonly Fact[], standing: Standing): ReadBackLine[] => {
    const values = facts
      .filter((fact) => asked.has(fact))
      .flatMap((fact) => valuesOf(fact, spec, standing).map((value) => ({ fact, value })));
    return values.length === 0 ? [] : [{ code: 'known', of, values }];
  };
  return spec.units.flatMap((unit) => [
    ...line(unitSubject(unit.id), ['conditioned', 'opacity'], { units: [unit], teeth: [] }),
    ...unit.teeth.flatMap((tooth) =>
      line(toothSubject(tooth), ['substrate', 'provisional'], { units: [], teeth: [tooth] }),
    ),
  ]);
}

function slotLine({ id, label, materialClass }: MaterialSlot, known: Known): ReadBackLine {
  const named = known.materials[id]?.at(-1)?.material;
  return {
    code: 'slot',
    label,
    materialClass,
    lot: named?.lot ?? null,
    expiry: named?.useBy ?? named?.expiry ?? null,
  };
}

/** Materials of the case: an optional one only where a step of this case uses it, or it was named. */
function slotsAsked(state: CaseState): readonly MaterialSlot[] {
  const used = new Set(layoutOf(state).instances.flatMap(({ step }) => step.uses ?? []));
  return state.opened.protocol.slots.filter(
    ({ id, optional }) => !optional || used.has(id) || state.materials[id] !== undefined,
  );
}

function untoldLine(state: CaseState, recipes: readonly Recipe[], isOne: boolean): ReadBackLine {
  const planned = new Map<string, SubjectId[]>();
  for (const { unit } of recipes) {
    const shade = state.opened.spec.units.find(({ id }) => unitSubject(id) === unit)?.shade;
    if (shade !== undefined) planned.set(shade, [...(planned.get(shade) ?? []), unit]);
  }
  return {
    code: 'shade-untold',
    chosen: shadeChoice(state),
    isOne,
    planned: [...planned].map(([shade, units]) => ({ shade, units })),
  };
}

/** What a unit is loaded with, and whether it is ready: for one unit, or for each of its mix. */
function loadingLines(state: CaseState, { now, subjects }: ReadAt): readonly ReadBackLine[] {
  const layout = layoutOf(state);
  const { spec } = state.opened;
  const units = subjects.flatMap((s) => layout.subjects.linked(s, 'unit'));
  const recipes = units.map((unit) => recipeOf(state, unit));
  const isOne = units.length === 1;
  const untold = recipes.filter(isUntold);
  const first = untold.length === 0 ? [] : [untoldLine(state, untold, isOne)];
  const told = recipes.flatMap((recipe): ReadBackLine[] => {
    const unit = isOne ? null : recipe.unit;
    const planned = spec.units.find((u) => unitSubject(u.id) === recipe.unit)?.shade ?? null;
    const found = conditioningOf({ state, layout, unit: recipe.unit, now });
    return [
      ...(isUntold(recipe) ? [] : [{ code: 'recipe', unit, recipe, planned } as const]),
      ...(found ? [{ code: 'conditioning', unit, found } as const] : []),
    ];
  });
  const lines = [...first, ...told];
  const mixed = units.flatMap((unit) =>
    layout.subjects.linked(unit, 'mix').flatMap((mix) => layout.subjects.linked(mix, 'unit')),
  );
  const others = [...new Set(mixed)].map((unit) => recipeOf(state, unit));
  const unlike = others.filter((other) => recipes.some((own) => !isSameRecipe(own, other)));
  if (unlike.length === 0) return lines;
  const last: ReadBackLine = isOne
    ? { code: 'unlike-mix', units: unlike.map((r) => r.unit) }
    : { code: 'shades-differ' };
  return [...lines, last];
}

function readinessLines(state: CaseState, { now, subjects }: ReadAt): readonly ReadBackLine[] {
  const layout = layoutOf(state);
  return subjects
    .flatMap((s) => layout.subjects.linked(s, 'unit'))
    .flatMap((unit) => {
      const found = conditioningOf({ state, layout, unit, now });
      return found === null ? [] : [{ code: 'readiness', unit, found } as const];
    });
}

/** What is read aloud, line by line. */
export function readBackLines(known: CaseState, of: ReadBack, at: ReadAt): readonly ReadBackLine[] {
  const { spec, protocol } = known.opened;
  switch (of) {
    case 'teeth':
      return [...spec.units.map(unitLine), ...knownLines(known.opened)];
    case 'protocol':
      return [{ code: 'protocol', title: protocol.title, revision: protocol.revision }];
    case 'materials':
      return slotsAsked(known).map((s) => slotLine(s, known));
    case 'allergies':
      return [{ code: 'allergies', words: spec.allergies ?? null }];
    case 'loading':
      return loadingLines(known, at);
    case 'readiness':
      return readinessLines(known, at);
    case 'people':
      return spec.people.map(({ label, role }) => ({ code: 'person', label, role }));
    default:
      return unreachable(of);
  }
}

/** What a press on this step records by itself; null when it has nothing to read aloud. */
export function readBackOf(
  known: CaseState,
  step: Step | undefined,
  at: ReadAt,
): readonly ReadBackLine[] | null {
  const action = step?.action;
  const evidence = action && 'evidence' in action ? action.evidence : undefined;
  return evidence?.kind === 'read-back' ? readBackLines(known, evidence.of, at) : null;
}
