/**
 * Numbered changes of how the clinic's things are kept on a tablet, done once when this window begins to
 * write. A step is never edited after it was released, can be done twice, and takes nothing away: a kill
 * on the way leaves what was there.
 */
import { ok, type Result } from '../../base/result.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { factDocument, keepFact } from './fact.ts';
import { factOfDocument } from './legacy-facts.ts';
import { LAYOUT } from './this-tablet.ts';

const ONLY = 'this-tablet';

interface Step {
  readonly to: number;
  readonly why: string;
  readonly run: (
    journal: Journal,
    o: { readonly epoch: number; readonly tablet: string },
  ) => Promise<Result<null, JournalProblem>>;
}

const STEPS: readonly Step[] = [
  {
    to: 1,
    why: 'two tablets counted their edits of one document each for itself, and the larger number won over a recall',
    run: async (journal, { epoch, tablet }) => {
      const stored = await journal.documents.listAll();
      if (!stored.ok) return stored;
      const here = new Set(stored.value.map(({ kind, id }) => `${kind} ${id}`));
      for (const document of stored.value) {
        const fact = factOfDocument(document, { tablet });
        if (fact === null || here.has(`${factDocument(fact.kind)} ${fact.id}`)) continue;
        const kept = await keepFact(journal, fact, epoch);
        if (!kept.ok) return kept;
      }
      return ok(null);
    },
  },
];

/**
 * Does every step, also those that were done before: a window of an older version may have written since.
 * Errors: the journal's; then it is tried at the next start.
 */
export async function takeOverFacts(
  journal: Journal,
  o: { readonly epoch: number; readonly tablet: string },
): Promise<Result<null, JournalProblem>> {
  const read = await journal.documents.get(LAYOUT, { id: ONLY });
  if (!read.ok) return read;
  for (const { to, run } of STEPS) {
    const done = await run(journal, o);
    if (!done.ok) return done;
    if (typeof read.value === 'number' && read.value >= to) continue;
    const { epoch } = o;
    const noted = await journal.documents.put({ kind: LAYOUT, id: ONLY, value: to, epoch });
    if (!noted.ok) return noted;
  }
  return ok(null);
}
