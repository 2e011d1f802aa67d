/** What the shipped templates correct in the revisions that are in force on this tablet. */
import { useMemo } from 'react';
import { type CorrectedProtocol, correctedProtocol } from '../../runtime/lead/lead-corrections.ts';
import { useApp } from '../shared/session-context.ts';
import { useLead } from './use-lead.ts';

/** By the id of the protocol; what has no confirmed revision beside a template is not in it. */
export function useCorrections(): ReadonlyMap<string, CorrectedProtocol> {
  const protocols = useApp((s) => s.protocols);
  const templates = useLead((s) => s.templates);
  const read = useLead((s) => s.corrections);
  const log = useLead((s) => s.log);
  return useMemo(() => {
    const around = { templates, rows: read.ok ? read.value : [], entries: log.entries };
    return new Map(
      protocols.flatMap((entry): [string, CorrectedProtocol][] => {
        const corrected = correctedProtocol(entry, around);
        return corrected === null ? [] : [[entry.protocol.id, corrected]];
      }),
    );
  }, [protocols, templates, read, log]);
}
