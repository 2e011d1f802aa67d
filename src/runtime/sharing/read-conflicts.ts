/** Reads what two tablets tell differently from what this tablet keeps. */
import { ok, type Result } from '../../base/result.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { listFacts } from '../facts/fact.ts';
import { readRevisions } from '../lead/lead-revisions.ts';
import { type Conflict, conflictsIn } from './conflicts.ts';

/** Everything that a person has to choose about. Errors: the journal's. */
export async function readConflicts(
  journal: Journal,
): Promise<Result<readonly Conflict[], JournalProblem>> {
  const [prepared, materials, sheets, protocols, people, { all }] = await Promise.all([
    listFacts(journal, 'prepared-case'),
    listFacts(journal, 'material'),
    listFacts(journal, 'sheet'),
    listFacts(journal, 'protocol'),
    listFacts(journal, 'person'),
    readRevisions(journal),
  ]);
  for (const listed of [prepared, materials, sheets, protocols, people])
    if (!listed.ok) return listed;
  const factsOf = (listed: typeof prepared) => (listed.ok ? listed.value.facts : []);
  return ok(
    conflictsIn({
      prepared: factsOf(prepared),
      materials: factsOf(materials),
      sheets: factsOf(sheets),
      protocols: factsOf(protocols),
      people: factsOf(people),
      revisions: all,
    }),
  );
}
