/** Reads what two tablets tell differently from what this tablet keeps. */
import { fieldsOf } from '../../base/json.ts';
import { ok, type Result } from '../../base/result.ts';
import { patientKey } from '../../outcomes/patient-key.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { type Fact, factDocument, listFacts, readFact } from '../facts/fact.ts';
import { FOLLOW_UP, OUTCOME_REVIEW, QUESTION } from '../follow-up/follow-up-state.ts';
import { readRevisions } from '../lead/lead-revisions.ts';
import { type Conflict, conflictsIn } from './conflicts.ts';

const GONE: ReadonlySet<unknown> = new Set(['lost-retention', 'replaced-other', 'tooth-lost']);

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** Whether a visit as it is stored may tell of something that is gone. */
const tellsOfGone = (visit: unknown): boolean =>
  listOf(fieldsOf(visit)['units']).some((unit) => {
    const { retainers, done } = fieldsOf(unit);
    const found = [unit, ...listOf(retainers)].flatMap((one) => listOf(fieldsOf(one)['findings']));
    return done === 'replaced' || found.some((each) => GONE.has(each));
  });

/** Items of which visits may not agree: one was corrected, two are of one day, or something is gone and several tell of it. */
function doubtful(said: readonly (readonly [item: unknown, said: unknown])[]): Set<unknown> {
  const found = new Set<unknown>();
  const visits = new Map<unknown, { readonly days: Set<unknown>; gone: boolean }>();
  for (const [item, one] of said) {
    const { what, visit } = fieldsOf(one);
    if (what === 'visit-corrected' || what === 'visit-struck') found.add(item);
    if (what !== 'visited') continue;
    const { onDay } = fieldsOf(visit);
    const known = visits.get(item);
    const gone = tellsOfGone(visit);
    if (known === undefined) visits.set(item, { days: new Set([onDay]), gone });
    else {
      known.gone ||= gone;
      if (known.gone || known.days.has(onDay)) found.add(item);
      known.days.add(onDay);
    }
  }
  return found;
}

const patientOf = (said: unknown): string | null => {
  const { what, patient } = fieldsOf(said);
  return what === 'bonded' && typeof patient === 'string' ? patientKey(patient) : null;
};

/** The entries of cases whose visits may not agree, and of their patients: only those are read, of what may be thousands. */
async function doubtfulFollowUps(
  journal: Journal,
): Promise<Result<readonly Fact[], JournalProblem>> {
  const listed = await journal.documents.list(factDocument(FOLLOW_UP));
  if (!listed.ok) return listed;
  const said = listed.value.map(({ value }) => {
    const fields = fieldsOf(value);
    return [fields['item'], fields['said']] as const;
  });
  const items = doubtful(said);
  if (items.size === 0) return ok([]);
  const patients = new Set(
    said.flatMap(([item, one]) => (items.has(item) ? (patientOf(one) ?? []) : [])),
  );
  for (const [item, one] of said) if (patients.has(patientOf(one) ?? '')) items.add(item);
  const own = listed.value.filter((_, at) => items.has(said[at]?.[0]));
  return ok(own.flatMap((document) => readFact(document) ?? []));
}

/** Everything that a person has to choose about. Errors: the journal's. */
export async function readConflicts(
  journal: Journal,
): Promise<Result<readonly Conflict[], JournalProblem>> {
  const [prepared, materials, sheets, protocols, people, followUps, reviews, { all }] =
    await Promise.all([
      listFacts(journal, 'prepared-case'),
      listFacts(journal, 'material'),
      listFacts(journal, 'sheet'),
      listFacts(journal, 'protocol'),
      listFacts(journal, 'person'),
      doubtfulFollowUps(journal),
      listFacts(journal, OUTCOME_REVIEW),
      readRevisions(journal),
    ]);
  for (const listed of [prepared, materials, sheets, protocols, people, reviews])
    if (!listed.ok) return listed;
  if (!followUps.ok) return followUps;
  const factsOf = (listed: typeof prepared) => (listed.ok ? listed.value.facts : []);
  return ok(
    conflictsIn({
      prepared: factsOf(prepared),
      materials: factsOf(materials),
      sheets: factsOf(sheets),
      protocols: factsOf(protocols),
      people: factsOf(people),
      followUps: followUps.value,
      questions: factsOf(reviews).filter(({ item }) => item === QUESTION),
      revisions: all,
    }),
  );
}
