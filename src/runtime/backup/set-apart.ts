/** What this tablet keeps beside its records because it fits nowhere: nothing of it is dropped. */

import { fieldsOf } from '../../base/json.ts';
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { ApartWhy } from '../../words/codes.ts';
import { SET_APART } from './backup-lines.ts';

export interface ApartThing {
  readonly id: string;
  readonly caseId: string | null;
  readonly why: ApartWhy;
  readonly content: unknown;
}

const OTHER = new Set(['conflict', 'unlinked']);

function whyOf(value: Readonly<Record<string, unknown>>): ApartWhy {
  if (value['entries'] !== undefined) return 'other-case';
  return value['kind'] === undefined ? 'apart-before' : 'gave-way';
}

/** Entries that still stand in a case of which the start is lost: no record can be made of them. */
async function readHeadless(
  journal: Pick<Journal, 'damage' | 'read'>,
): Promise<readonly ApartThing[]> {
  const damage = await journal.damage.read();
  const headless = (damage.ok ? damage.value.cases : []).filter(({ left }) => left === 0);
  const readings = await Promise.all(headless.map(({ caseId }) => journal.read(caseId)));
  return readings.flatMap((reading) => {
    if (!reading.ok) return [];
    const { caseId, apart } = reading.value;
    return apart.map((content, n): ApartThing => {
      return { id: `case ${caseId} ${n}`, caseId, why: 'damaged', content };
    });
  });
}

/** Everything that was set apart: by the journal itself, and by restores. Errors: the journal's. */
export async function readApart(
  journal: Pick<Journal, 'listSetApart' | 'documents' | 'damage' | 'read'>,
): Promise<Result<readonly ApartThing[], Problem>> {
  const [found, kept] = await Promise.all([
    journal.listSetApart(),
    journal.documents.list(SET_APART),
  ]);
  if (!found.ok) return found;
  if (!kept.ok) return kept;
  const own = found.value.map(
    ({ caseId, reason, content }, n): ApartThing => ({
      id: `journal ${n}`,
      caseId,
      why: OTHER.has(reason) ? 'other-entry' : 'damaged',
      content,
    }),
  );
  const restored = kept.value.map(({ id, value }): ApartThing => {
    const fields = fieldsOf(value);
    const { caseId } = fields;
    const isCase = typeof caseId === 'string' && caseId !== '';
    return { id, caseId: isCase ? caseId : null, why: whyOf(fields), content: value };
  });
  return ok([...own, ...(await readHeadless(journal)), ...restored]);
}

/** Deletes what restores had kept of a case that is deleted for good. Errors: the journal's. */
export async function forgetApartOf(
  journal: Pick<Journal, 'documents'>,
  o: { readonly caseId: string; readonly epoch: number },
): Promise<Result<null, Problem>> {
  const kept = await journal.documents.list(SET_APART);
  if (!kept.ok) return kept;
  for (const { id, value } of kept.value) {
    if (fieldsOf(value)['caseId'] !== o.caseId) continue;
    const gone = await journal.documents.delete({ kind: SET_APART, id, epoch: o.epoch });
    if (!gone.ok) return gone;
  }
  return ok(null);
}
