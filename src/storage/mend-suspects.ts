/** Has damaged cases mended, by code that is read only where there are some. */
import type { CaseDamage } from './journal-types.ts';
import { loadMending } from './mending-part.ts';
import type { JournalDatabase } from './migrations.ts';
import type { SecondHome } from './second-home.ts';
import type { Suspects } from './suspects.ts';

interface MendedCases {
  readonly filled: number;
  readonly conflicts: number;
  readonly damaged: readonly CaseDamage[];
}

const NOTHING_MENDED: MendedCases = { filled: 0, conflicts: 0, damaged: [] };

/** Mends every suspect from the files, where there are some; null where the code for it cannot be had now. */
export async function mendSuspects(
  homes: { readonly database: JournalDatabase; readonly home: SecondHome | null },
  suspects: Suspects,
): Promise<MendedCases | null> {
  if (suspects.size === 0) return NOTHING_MENDED;
  // Damage must not keep the app from opening: it is looked at again at the next start.
  const code = await loadMending().catch(() => null);
  return code === null ? null : code.mendAll(homes, suspects);
}
