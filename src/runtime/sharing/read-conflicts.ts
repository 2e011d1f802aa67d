/** Reads what two tablets tell differently from what this tablet keeps. */
import { fieldsOf } from '../../base/json.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { type Fact, factDocument, listFacts, readFact } from '../facts/fact.ts';
import { FOLLOW_UP } from '../follow-up/follow-up-state.ts';
import { readRevisions } from '../lead/lead-revisions.ts';
import { type Conflict, conflictsIn } from './conflicts.ts';

const CORRECTS: ReadonlySet<unknown> = new Set(['visit-corrected', 'visit-struck']);

/** The entries of cases of which a visit was corrected: only those are read, of what may be thousands. */
async function correctedFollowUps(
  journal: Journal,
): Promise<Result<readonly Fact[], JournalProblem>> {
  const listed = await journal.documents.list(factDocument(FOLLOW_UP));
  if (!listed.ok) return listed;
  const itemOf = (value: unknown): unknown => fieldsOf(value)['item'];
  const corrected = new Set(
    listed.value.flatMap(({ value }) =>
      CORRECTS.has(fieldsOf(fieldsOf(value)['said'])['what']) ? [itemOf(value)] : [],
    ),
  );
  const own = listed.value.filter(({ value }) => corrected.has(itemOf(value)));
  return ok(own.flatMap((document) => readFact(document) ?? []));
}

/** Everything that a person has to choose about. Errors: the journal's. */
export async function readConflicts(
  journal: Journal,
): Promise<Result<readonly Conflict[], JournalProblem>> {
  const [prepared, materials, sheets, protocols, people, followUps, { all }] = await Promise.all([
    listFacts(journal, 'prepared-case'),
    listFacts(journal, 'material'),
    listFacts(journal, 'sheet'),
    listFacts(journal, 'protocol'),
    listFacts(journal, 'person'),
    correctedFollowUps(journal),
    readRevisions(journal),
  ]);
  for (const listed of [prepared, materials, sheets, protocols, people])
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
      revisions: all,
    }),
  );
}
