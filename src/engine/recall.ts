/** What was noted earlier and is wanted again now, unit by unit: the accepted recipe at loading. */
import { instanceKey, type Layout } from './layout.ts';
import type { CaseState, SubjectId } from './types.ts';

/** The evidence of the step that `step` recalls, for what belongs to `subject`; null when none. */
export function recalled(
  state: CaseState,
  layout: Layout,
  at: { readonly step: string; readonly subject: SubjectId },
): string | null {
  const { steps } = layout.protocol;
  const other = steps.find((s) => s.id === steps.find((own) => own.id === at.step)?.recalls);
  if (!other) return null;
  const found = layout.subjects
    .linked(at.subject, other.per)
    .flatMap((s) => state.runs[instanceKey(other.id, s)]?.evidence ?? []);
  return found.length === 0 ? null : [...new Set(found)].join('; ');
}
