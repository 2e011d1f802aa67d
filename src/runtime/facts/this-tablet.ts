/** What this tablet knows of facts that came from elsewhere. */
import { fieldsOf } from '../../base/json.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import type { Fact } from './fact.ts';

/** A fact of a desk that a backup brought to a tablet with a lead of its own: it vouches for nothing here. */
export const CAME_IN = 'came-in';
/** The log of a tablet whose desk goes on here, as after a loss: it vouches as this one's own. */
export const LOG_TAKEN_OVER = 'log-taken-over';
/** The desk of a tablet of the same clinic: what it signed and gave to the clinic's store counts here too. */
export const CLINIC_DESK = 'clinic-desk';
/** How far this tablet has taken over what was kept in other ways before. */
export const LAYOUT = 'layout';

/** Marks of a tablet. A backup holds them; where a lead keeps the desk it brings none. */
export const MARK_KINDS: ReadonlySet<string> = new Set([CAME_IN, LOG_TAKEN_OVER, CLINIC_DESK]);

export interface ThisTablet {
  /** Its id; empty before its first start as a writer. */
  readonly tablet: string;
  readonly cameIn: ReadonlySet<string>;
  readonly takenOver: ReadonlySet<string>;
  /** Tablets of the clinic whose desks count here. */
  readonly clinic: ReadonlySet<string>;
}

/** Errors: the journal's. */
export async function readThisTablet(
  journal: Pick<Journal, 'documents'>,
): Promise<Result<ThisTablet, JournalProblem>> {
  const { documents } = journal;
  const [settings, cameIn, takenOver, clinic] = await Promise.all([
    documents.get('settings', { id: 'this-tablet' }),
    documents.list(CAME_IN),
    documents.list(LOG_TAKEN_OVER),
    documents.list(CLINIC_DESK),
  ]);
  if (!settings.ok) return settings;
  if (!cameIn.ok) return cameIn;
  if (!takenOver.ok) return takenOver;
  if (!clinic.ok) return clinic;
  const { tablet } = fieldsOf(settings.value);
  const ids = (found: readonly { readonly id: string }[]) => new Set(found.map(({ id }) => id));
  return ok({
    tablet: typeof tablet === 'string' ? tablet : '',
    cameIn: ids(cameIn.value),
    takenOver: ids(takenOver.value),
    clinic: ids(clinic.value),
  });
}

/** Whether a fact was said at the desk of this tablet, or at one that goes on here; not what a file brought. */
export const isOfOwnDesk = (
  { id, tablet }: Pick<Fact, 'id' | 'tablet'>,
  { tablet: own, cameIn, takenOver }: ThisTablet,
): boolean => (tablet === own || takenOver.has(tablet)) && !cameIn.has(id);

/** The same, or at a desk of the same clinic, which signed it. */
export const isOfThisDesk = (fact: Pick<Fact, 'id' | 'tablet'>, here: ThisTablet): boolean =>
  isOfOwnDesk(fact, here) || (here.clinic.has(fact.tablet) && !here.cameIn.has(fact.id));
