/**
 * What is kept of a drill: a document of the kind `drill` under the id of its case. It stays on this tablet and in
 * its backups, and outlives the journal of the drill, which goes after twelve months. It names the pair where they wanted
 * it, up to then.
 */
import * as v from 'valibot';
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import type { Result } from '../../base/result.ts';
import { ok } from '../../base/result.ts';
import type { KindDone } from '../../drill/account.ts';
import type { Pair } from '../../drill/pair.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Mishap } from '../../protocol/types.ts';
import { MISHAPS } from '../../protocol/vocabulary.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';

export const DRILL = 'drill';

export interface DrillNotes {
  /** What was seen, what was thought, what would make it easier; empty where nothing was said. */
  readonly seen: string;
  readonly thought: string;
  readonly easier: string;
}

export interface KeptDrill {
  readonly caseId: string;
  readonly seed: number;
  readonly protocolHash: string;
  readonly atWallMs: number;
  /** Id of the card that it was taken up again for. */
  readonly again?: string | undefined;
  /** Who did it; absent where nobody was named. */
  readonly pair?: Pair | undefined;
  readonly kinds: readonly KindDone[];
  readonly notes: DrillNotes;
}

export const NO_NOTES: DrillNotes = { seen: '', thought: '', easier: '' };

const NOTE_LENGTH_MAX = 2000;
const note = v.pipe(v.string(), v.maxLength(NOTE_LENGTH_MAX));

const name = v.pipe(v.string(), v.maxLength(NAME_LENGTH_MAX));

const keptSchema = v.object({
  caseId: v.string(),
  seed: v.number(),
  protocolHash: v.string(),
  atWallMs: v.number(),
  again: v.optional(v.string()),
  pair: v.optional(v.object({ lead: name, assists: name })),
  kinds: v.array(
    v.object({
      mishap: v.picklist(MISHAPS) as v.GenericSchema<Mishap>,
      isRightFirst: v.boolean(),
      isInTime: v.boolean(),
    }),
  ),
  notes: v.object({ seen: note, thought: note, easier: note }),
});

/** Every drill that is kept here, the oldest first. What cannot be read is left out. */
export async function keptDrills({
  documents,
}: Pick<Journal, 'documents'>): Promise<Result<readonly KeptDrill[], JournalProblem>> {
  const listed = await documents.list(DRILL);
  if (!listed.ok) return listed;
  const kept = listed.value.flatMap(({ value }): KeptDrill[] => {
    const read = parsedOr(keptSchema, value);
    return read === null ? [] : [read];
  });
  return ok(kept.toSorted((a, b) => a.atWallMs - b.atWallMs));
}
