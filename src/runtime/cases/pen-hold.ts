/** Whether this tablet goes on with a case, and whether the one that does is heard of. Small: each start needs it. */
import type { CaseLog } from '../../engine/log.ts';
import { holdsPen } from '../../engine/pen.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { SharingState, TabletRow } from '../sharing/sharing-state.ts';

/** A tablet says that it is there every two seconds; after so long without a word, in ms, it is not heard of. */
export const HEARD_WITHIN_MS = 15_000;

/** A tablet that belongs to a clinic of several keeps what the lead said of each. */
const TABLET_FACT = 'fact-tablet';

/**
 * Another tablet writes this case, so that here it is only read. A tablet that never shared goes on with what
 * a file brought, as it always did.
 */
export async function isWrittenElsewhere(
  { journal, tablet }: { readonly journal: Pick<Journal, 'documents'>; readonly tablet: string },
  { state }: CaseLog,
): Promise<boolean> {
  const { pen, opened } = state;
  if (holdsPen(pen, tablet)) return false;
  const isHanded = pen.given !== null || pen.name !== null;
  if (isHanded) return true;
  if (opened.mode === 'rehearsal') return false;
  const shared = await journal.documents.list(TABLET_FACT);
  return !shared.ok || shared.value.length > 0;
}

/** This tablet among those of its clinic, for what it writes to a case of another; null where there are no others. */
export function writerOf({
  settings,
  sharing,
}: {
  readonly settings: { readonly tablet: string };
  readonly sharing: SharingState;
}): { readonly tablet: string; readonly name: string; readonly fromName: string } | null {
  if (sharing.standing === 'alone') return null;
  return { tablet: settings.tablet, name: sharing.name, fromName: '' };
}

/** The tablet that has the case, as the clinic knows it; as the case names it where it knows none. */
export function holderOf(
  { sharing }: { readonly sharing: SharingState },
  { state }: CaseLog,
): string {
  const { holder } = state.pen;
  return tabletRow(sharing, holder)?.device ?? holder ?? '';
}

/** By the id under which a tablet writes cases, or by that of the clinic; what it is now, where it joined again. */
export function tabletRow(
  { tablets }: Pick<SharingState, 'tablets'>,
  id: string | null,
): TabletRow | null {
  if (id === null) return null;
  const rows = tablets.filter((row) => row.tablet === id || row.device === id);
  return rows.find((row) => row.isEarlier !== true) ?? rows[0] ?? null;
}

/** Two beats of the others, and a second until what they said is told. A design choice of this project. */
const LOOKS_FOR_MS = 5000;

/** The line has only just opened: a tablet that is there may not have been heard of yet. */
export function isLooking(
  { lookingSinceWallMs }: Pick<SharingState, 'lookingSinceWallMs'>,
  nowWallMs: number,
): boolean {
  if (lookingSinceWallMs === null) return false;
  // A screen may still show the second before the line opened.
  return Math.abs(nowWallMs - lookingSinceWallMs) < LOOKS_FOR_MS;
}

/** Heard of just now, by this tablet's clock. One that was put out is heard of no more. */
export function isHeardNow(
  row: Pick<TabletRow, 'standing' | 'lastContactWallMs'> | null,
  nowWallMs: number,
): boolean {
  if (row === null || row.standing !== 'paired' || row.lastContactWallMs === null) return false;
  return nowWallMs - row.lastContactWallMs < HEARD_WITHIN_MS;
}
