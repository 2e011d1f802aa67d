/** The lead's box among the clinic's facts: sealed as it is, so that every tablet and every backup has it. */
import * as v from 'valibot';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { parseSealedBox, type SealedBox } from '../../sync/box.ts';
import { LAST_BACKUP } from '../cases/last-backup.ts';
import { type Fact, listFacts } from '../facts/fact.ts';
import { FactHistory } from '../facts/fact-history.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import { THIS_TABLET } from '../lead/lead-documents.ts';

const CLINIC = 'clinic';
const BOX = 'box';

const saidSchema = v.variant('type', [
  v.object({ type: v.literal('sealed'), site: v.optional(v.string()), box: v.unknown() }),
  /** Somebody has it on paper: the fact that it names. */
  v.object({ type: v.literal('printed'), of: v.string() }),
]);

const backupSchema = v.object({ onWallMs: v.number() });

export interface KeptBox {
  /** The fact that holds it. */
  readonly id: string;
  readonly sealed: SealedBox;
  readonly sealedAtWallMs: number;
  readonly isPrinted: boolean;
  /** A backup was made on this tablet after it was sealed. */
  readonly isBackedUp: boolean;
}

/**
 * The box of a clinic that was sealed last, of any where `site` is null: a tablet that was tried elsewhere before, or
 * a backup of it, holds that box too. Of two whose writers did not know of each other, that with more secrets counts.
 */
export async function readBox(
  journal: Pick<Journal, 'documents'>,
  site: string | null,
): Promise<KeptBox | null> {
  const [listed, backup] = await Promise.all([
    listFacts(journal, CLINIC),
    journal.documents.get(LAST_BACKUP, { id: THIS_TABLET }),
  ]);
  if (!listed.ok) return null;
  const history = new FactHistory(listed.value.facts.filter(({ item }) => item === BOX));
  const said = history.inOrder.map((fact) => ({ fact, said: parsedOr(saidSchema, fact.said) }));
  const sealed = said.flatMap(({ fact, said: one }): { fact: Fact; box: SealedBox }[] => {
    const isOfSite = one?.type === 'sealed' && (site === null || one.site === site);
    const box = isOfSite ? parseSealedBox(one.box) : null;
    return box === null ? [] : [{ fact, box }];
  });
  const last = new Set(history.lastOf(sealed.map(({ fact }) => fact)));
  const [found] = sealed
    .filter(({ fact }) => last.has(fact))
    // A box grows by each secret that it holds.
    .toSorted(
      (a, b) => b.box.sealed.length - a.box.sealed.length || (a.fact.id < b.fact.id ? -1 : 1),
    );
  if (found === undefined) return null;
  const { id, atWallMs } = found.fact;
  const isPrinted = said.some(({ said: one }) => one?.type === 'printed' && one.of === id);
  const backedUp = parsedOr(backupSchema, backup.ok ? backup.value : null);
  // Sealed and backed up on two tablets whose clocks differ, it may be asked for once more: no harm.
  const isBackedUp = backedUp !== null && backedUp.onWallMs >= atWallMs;
  return { id, sealed: found.box, sealedAtWallMs: atWallMs, isPrinted, isBackedUp };
}

type Said = Promise<Result<readonly Fact[], Problem>>;

export const sayBox = (
  parts: FactParts,
  o: { readonly site: string; readonly box: SealedBox },
): Said => say(parts, { kind: CLINIC, item: BOX, said: [{ type: 'sealed', ...o }], by: null });

/** `of`: the fact that holds the box. */
export const sayPrinted = (
  parts: FactParts,
  o: { readonly site: string | null; readonly of: string },
): Said => say(parts, { kind: CLINIC, item: BOX, said: [{ type: 'printed', ...o }], by: null });
