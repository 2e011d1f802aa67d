import { useEffect, useState } from 'react';
import { isSameJson } from '../../base/json.ts';
import type { CaseFile } from '../../protocol/types.ts';
import { withOwnPaces } from '../../runtime/cases/own-paces.ts';
import { useSession } from '../shared/session-context.ts';

interface Looked {
  readonly at: CaseFile;
  readonly found: CaseFile;
}

/**
 * A prepared case with the paces that people's own records give it now, kept with the case so that
 * it is opened with the plan that was seen. Undefined until the records have been read.
 */
export function useOwnPaces(prepared: CaseFile | undefined): CaseFile | undefined {
  const session = useSession();
  const [looked, setLooked] = useState<Looked | null>(null);
  useEffect(() => {
    if (prepared === undefined) return undefined;
    let isCurrent = true;
    void withOwnPaces(session, prepared).then((found) => {
      if (!isCurrent) return;
      // What reads the same keeps its identity, so that nothing is planned twice.
      setLooked((before) => {
        const isSame = isSameJson(before?.found, found);
        return { at: prepared, found: isSame && before !== null ? before.found : found };
      });
      // A window that only reads along cannot keep it; it plans with what it found all the same.
      if (found !== prepared) void session.saveCase(found);
    });
    return () => {
      isCurrent = false;
    };
  }, [session, prepared]);
  return looked?.at.id === prepared?.id ? looked?.found : undefined;
}
