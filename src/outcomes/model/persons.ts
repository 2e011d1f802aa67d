/**
 * Figures by person, for the lead. Names stand there only of who agreed; who did not stands among the others, if at least two
 * with 10 patients each are: one alone could be told from the rest. Nothing is shown unless every comparison of them passes its gates and can be
 * tested with the patient as one; what is missing then is told without a name or a number of anybody. Pure.
 */
import { personKey } from '../../base/person-key.ts';
import { hasAgreed } from '../agreements.ts';
import { GATES } from '../figures/gates.ts';
import type { FollowUp } from '../follow-up-types.ts';
import type { Life } from '../life-types.ts';
import type { Agreement } from '../review-types.ts';
import { comparisonsOf, groupingShown } from './comparisons.ts';
import type { Dated } from './dated.ts';
import type { Grouping } from './groupings.ts';
import { NOT_NAMED, type PersonsMissing, type PersonsShown } from './outcomes-types.ts';

interface Persons {
  /** The dentist of a life; null where none is named, or several are. */
  readonly of: (life: Life) => string | null;
  /** How a person is written, by key; of several writings the first in order. */
  readonly labels: ReadonlyMap<string, string>;
}

function personsOf(followUps: readonly FollowUp[]): Persons {
  const labels = new Map<string, string>();
  const byCase = new Map<string, string>();
  for (const { caseId, bonded } of followUps) {
    const dentists = (bonded?.people ?? []).filter(({ role }) => role === 'dentist');
    const keys = new Set(dentists.map(({ label }) => personKey(label)));
    const [key = ''] = keys;
    if (keys.size !== 1 || key === '') continue;
    byCase.set(caseId, key);
    for (const { label } of dentists) {
      const known = labels.get(key);
      if (known === undefined || label < known) labels.set(key, label);
    }
  }
  // What was bonded again without a record has nobody.
  return {
    of: ({ caseId, people }) => (people.length > 0 ? byCase.get(caseId) : null) ?? null,
    labels,
  };
}

const shut = (...missing: readonly PersonsMissing[]): PersonsShown => ({ isOpen: false, missing });

/** One group a person who agreed, and one of all others. */
function groupingOf(persons: Persons, named: ReadonlySet<string>): Grouping {
  return {
    id: 'person',
    kind: 'person',
    about: '',
    isAbout: () => true,
    nameOf: (life) => {
      const key = persons.of(life);
      if (key === null) return null;
      return named.has(key) ? (persons.labels.get(key) ?? key) : NOT_NAMED;
    },
  };
}

export function personsShown(
  all: readonly Dated[],
  o: {
    readonly followUps: readonly FollowUp[];
    readonly agreed: readonly Agreement[];
    readonly graceDays: number;
  },
): PersonsShown {
  const persons = personsOf(o.followUps);
  const keys = [...new Set(all.flatMap(({ life }) => persons.of(life) ?? []))];
  if (keys.length < 2) return shut('one-person');
  // Beside somebody with next to no patients one would stand as good as alone.
  const hasPatients = (key: string): boolean => {
    const own = all.filter(({ life }) => persons.of(life) === key);
    return new Set(own.map(({ atVisit }) => atVisit.patient)).size >= GATES.patients;
  };
  const named = new Set(
    keys.filter((person) => hasAgreed(o.agreed, { person, to: 'own-figures' })),
  );
  const others = keys.filter((key) => !named.has(key));
  const isHidden = others.length === 0 || others.filter((key) => hasPatients(key)).length >= 2;
  if (named.size === 0 || !isHidden) return shut('agreement');
  const grouping = groupingOf(persons, named);
  const made = comparisonsOf(grouping, all, o.graceDays).map(({ comparison }) => comparison);
  const gates = made.flatMap(({ gates: each }) => (each.isOpen ? [] : each.missing));
  if (gates.length > 0) return shut(...new Set(gates.map(({ gate }) => gate)));
  if (made.some(({ robust }) => robust === null)) return shut('test');
  const shown = groupingShown(grouping, all, o.graceDays);
  // By name, never by figure; the others last.
  const groups = [
    ...shown.groups.filter(({ name }) => name !== NOT_NAMED),
    ...shown.groups.filter(({ name }) => name === NOT_NAMED),
  ];
  return { isOpen: true, grouping: { ...shown, groups } };
}
