/**
 * Writes what a sheet says into drafts: into the one of the revision in force that is open, or into
 * a new one. What is confirmed stays as it is until the lead confirms the draft.
 */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { addEdits, beginHistory, type EditHistory } from '../../protocol/edit-history.ts';
import { editOfChange, type SheetChange, sheetChanges } from '../../protocol/sheet-changes.ts';
import type { ProductSheet } from '../../protocol/sheet-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { LeadDesk } from './lead.ts';
import type { ProtocolDraft } from './lead-drafts.ts';
import { draftOf } from './take-over.ts';

/** What a sheet would do to one protocol. */
export interface SheetEffect {
  readonly inForce: Protocol;
  readonly hash: string;
  /** The draft that it would be written into; null where one is begun. */
  readonly draft: ProtocolDraft | null;
  readonly history: EditHistory;
  readonly changes: readonly SheetChange[];
}

/** The protocols that a sheet would change, each with every place of it. */
export function sheetEffects(
  sheet: ProductSheet,
  o: {
    readonly protocols: readonly { readonly protocol: Protocol; readonly hash: string }[];
    readonly drafts: readonly ProtocolDraft[];
  },
): readonly SheetEffect[] {
  return o.protocols.flatMap(({ protocol, hash }): SheetEffect[] => {
    const draft = draftOf(o.drafts, hash);
    const history = draft?.history ?? beginHistory(protocol);
    const changes = sheetChanges(history.protocol, sheet);
    return changes.length === 0 ? [] : [{ inForce: protocol, hash, draft, history, changes }];
  });
}

/** The draft with those changes that were chosen. */
export function withChanges(
  { history }: Pick<SheetEffect, 'history'>,
  changes: readonly SheetChange[],
): Result<EditHistory, Problem> {
  return addEdits(history, changes.map(editOfChange));
}

/** Writes the chosen changes of one protocol. Answers with the id of its draft. */
export async function makeDraft(
  desk: LeadDesk,
  effect: SheetEffect,
  changes: readonly SheetChange[],
): Promise<Result<string, Problem>> {
  const history = withChanges(effect, changes);
  if (!history.ok) return history;
  const begun = effect.draft === null ? await desk.beginDraft(effect.inForce) : ok(effect.draft.id);
  if (!begun.ok) return begun;
  const saved = await desk.saveDraft(begun.value, history.value);
  return saved.ok ? begun : saved;
}
