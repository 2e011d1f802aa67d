/**
 * Who a step is done to: ids, their order in the case, and which belong together (the unit of that
 * tooth, the mix of that unit, the contacts of that tooth).
 */
import { present, unreachable } from '../base/assert.ts';
import type { CaseFile } from './case-types.ts';
import type { Link, Scope } from './types.ts';

/** `case`, `unit:12`, `tooth:12`, `contact:12-11`, `mix:1`. */
export type SubjectId = string;

/** Unit ids in seating order, and those of each mix. */
export interface Grouping {
  readonly order: readonly string[];
  readonly mixes: readonly (readonly string[])[];
}

export const CASE_SUBJECT: SubjectId = 'case';

export const unitSubject = (unit: string): SubjectId => `unit:${unit}`;
export const toothSubject = (tooth: string): SubjectId => `tooth:${tooth}`;
const contactSubject = (contact: string): SubjectId => `contact:${contact}`;
export const mixSubject = (mix: number): SubjectId => `mix:${mix}`;

/** `tooth:12` -> `tooth`; `case` -> `case`. */
export function scopeOf(subject: SubjectId): Scope {
  const colon = subject.indexOf(':');
  const scope = colon < 0 ? subject : subject.slice(0, colon);
  switch (scope) {
    case 'case':
    case 'unit':
    case 'tooth':
    case 'contact':
    case 'mix':
      return scope;
    default:
      throw new Error(`not a subject: ${subject}`);
  }
}

/** `tooth:12` -> `12`; `case` -> empty. */
export function bareId(subject: SubjectId): string {
  const colon = subject.indexOf(':');
  return colon < 0 ? '' : subject.slice(colon + 1);
}

const UPPER = [
  '18',
  '17',
  '16',
  '15',
  '14',
  '13',
  '12',
  '11',
  '21',
  '22',
  '23',
  '24',
  '25',
  '26',
  '27',
  '28',
];
const LOWER = [
  '48',
  '47',
  '46',
  '45',
  '44',
  '43',
  '42',
  '41',
  '31',
  '32',
  '33',
  '34',
  '35',
  '36',
  '37',
  '38',
];

/** The arch a tooth stands in, from the patient's right to the left (ISO 3950 numbers). */
export function archOf(tooth: string): readonly string[] {
  return UPPER.includes(tooth) ? UPPER : LOWER;
}

interface Roster {
  readonly units: ReadonlyMap<SubjectId, ReadonlySet<string>>;
  readonly teeth: ReadonlyMap<SubjectId, ReadonlySet<string>>;
  readonly order: Readonly<Record<Scope, readonly SubjectId[]>>;
}

/** The subjects of a case, in order, with look-up of what belongs to what. */
export interface Subjects {
  readonly order: Readonly<Record<Scope, readonly SubjectId[]>>;
  /** Subjects of `scope` that belong to `subject`, in order. */
  linked(subject: SubjectId, scope: Scope): readonly SubjectId[];
  /** Subjects of `scope` that a link leads to from `subject`. */
  follow(
    subject: SubjectId,
    to: { readonly link: Link; readonly scope: Scope },
  ): readonly SubjectId[];
  /** The subject before this one in the order of its scope. */
  previous(subject: SubjectId): SubjectId | null;
  /** FDI numbers of the teeth that belong to `subject`. */
  teethOf(subject: SubjectId): readonly string[];
}

/** Contacts that a unit touches; inside a bridge there is none, its parts are one piece. */
function contactsOf(unitOfTooth: ReadonlyMap<string, string>): string[] {
  const found = new Set<string>();
  for (const arch of [UPPER, LOWER]) {
    for (let i = 0; i + 1 < arch.length; i++) {
      const a = present(arch[i], 'tooth');
      const b = present(arch[i + 1], 'tooth');
      if (unitOfTooth.get(a) !== unitOfTooth.get(b)) found.add(`${a}-${b}`);
    }
  }
  return [...found];
}

/** Indexes of the mixes as they come up in seating: a mix made again keeps its own number. */
function inSeatingOrder(plan: Grouping): number[] {
  const firsts = plan.mixes.map((mix) => Math.min(...mix.map((u) => plan.order.indexOf(u))));
  // A mix that has lost all its units is waited for by nobody: it goes in front.
  const rank = firsts.map((at) => (Number.isFinite(at) ? at : -1));
  return plan.mixes.map((_, i) => i).sort((a, b) => (rank[a] ?? 0) - (rank[b] ?? 0));
}

function buildRoster(spec: Pick<CaseFile, 'units'>, plan: Grouping): Roster {
  const byId = new Map(spec.units.map((u) => [u.id, u]));
  const units = new Map<SubjectId, ReadonlySet<string>>();
  const teeth = new Map<SubjectId, ReadonlySet<string>>();
  const ordered = plan.order.map((id) => present(byId.get(id), `unit ${id}`));
  const allTeeth = ordered.flatMap((u) => u.teeth);
  const unitOfTooth = new Map(
    ordered.flatMap((u) => [...u.teeth, ...(u.pontics ?? [])].map((t) => [t, u.id] as const)),
  );
  const add = (subject: SubjectId, ofUnits: readonly string[], ofTeeth: readonly string[]) => {
    units.set(subject, new Set(ofUnits));
    teeth.set(subject, new Set(ofTeeth));
    return subject;
  };
  const teethOfUnits = (ids: readonly string[]) =>
    ids.flatMap((id) => [...present(byId.get(id), `unit ${id}`).teeth]);
  const order: Record<Scope, readonly SubjectId[]> = {
    case: [add(CASE_SUBJECT, plan.order, allTeeth)],
    unit: ordered.map((u) => add(unitSubject(u.id), [u.id], u.teeth)),
    tooth: allTeeth.map((t) => add(toothSubject(t), [present(unitOfTooth.get(t), t)], [t])),
    contact: contactsOf(unitOfTooth).map((c) => {
      const own = c.split('-').filter((t) => unitOfTooth.has(t));
      return add(
        contactSubject(c),
        own.map((t) => present(unitOfTooth.get(t), t)),
        own,
      );
    }),
    mix: inSeatingOrder(plan).map((i) => {
      const mix = present(plan.mixes[i], 'mix');
      return add(mixSubject(i + 1), mix, teethOfUnits(mix));
    }),
  };
  return { units, teeth, order };
}

const meets = (a: ReadonlySet<string>, b: ReadonlySet<string>): boolean => {
  for (const x of a) if (b.has(x)) return true;
  return false;
};

/** Reads the subjects of a case from its file and plan. */
export function buildSubjects(spec: Pick<CaseFile, 'units'>, plan: Grouping): Subjects {
  const roster = buildRoster(spec, plan);
  const cache = new Map<string, readonly SubjectId[]>();
  const find = (subject: SubjectId, scope: Scope): readonly SubjectId[] => {
    if (scopeOf(subject) === scope) return [subject];
    // A tooth has its own contacts only, even when a bridge ties it to other teeth.
    const byTooth = [scopeOf(subject), scope].every((s) => s === 'tooth' || s === 'contact');
    const table = byTooth ? roster.teeth : roster.units;
    const own = present(table.get(subject), subject);
    return roster.order[scope].filter((other) => meets(own, present(table.get(other), other)));
  };
  const linked = (subject: SubjectId, scope: Scope): readonly SubjectId[] => {
    const key = `${subject}>${scope}`;
    const known = cache.get(key);
    if (known) return known;
    const found = find(subject, scope);
    cache.set(key, found);
    return found;
  };
  const previous = (subject: SubjectId): SubjectId | null => {
    const line = roster.order[scopeOf(subject)];
    return line[line.indexOf(subject) - 1] ?? null;
  };
  return {
    order: roster.order,
    linked,
    previous,
    follow(subject, { link, scope }) {
      switch (link) {
        case 'same':
        case 'linked':
          return linked(subject, scope);
        case 'all':
          return roster.order[scope];
        case 'earlier': {
          const line = roster.order[scopeOf(subject)];
          const before = new Set(line.slice(0, line.indexOf(subject)));
          return roster.order[scope].filter((other) =>
            linked(other, scopeOf(subject)).every((each) => before.has(each)),
          );
        }
        case 'previous': {
          const before = previous(subject);
          return before === null ? [] : linked(before, scope);
        }
        default:
          return unreachable(link);
      }
    },
    teethOf: (subject) => [...present(roster.teeth.get(subject), subject)],
  };
}
