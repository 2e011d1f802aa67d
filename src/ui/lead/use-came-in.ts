import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import { useApp, useTimes } from '../shared/session-context.ts';
import { cameInLines, sameHere } from './came-in-model.ts';
import { useLead } from './use-lead.ts';

interface CameIn {
  readonly lines: readonly string[];
  readonly same: string | null;
}

/** Where drafts came from, in words. */
export function useCameIn(): (draft: ProtocolDraft) => CameIn {
  const revisions = useLead((s) => s.revisions);
  const templates = useLead((s) => s.templates);
  const drafts = useLead((s) => s.drafts);
  const tablet = useApp((s) => s.settings.tablet);
  const times = useTimes();
  const around = { revisions, templates, drafts, tablet, times };
  return (draft) => ({ lines: cameInLines(draft, around), same: sameHere(draft, around) });
}
