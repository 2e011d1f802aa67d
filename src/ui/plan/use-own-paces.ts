import { useMemo } from 'react';
import type { CaseFile } from '../../protocol/case-types.ts';
import { withOwnPaces } from '../../runtime/cases/own-paces.ts';
import { useSession } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';

/**
 * A prepared case with the paces that people's own records give it now, kept with the case so that
 * it is opened with the plan that was seen. Undefined until the records have been read.
 */
export function useOwnPaces(prepared: CaseFile | undefined): CaseFile | undefined {
  const session = useSession();
  const look = async (signal: AbortSignal): Promise<CaseFile | undefined> => {
    if (prepared === undefined) return undefined;
    const found = await withOwnPaces(session, prepared);
    // A view-only window cannot save it; it plans with what it found all the same. What
    // was changed meanwhile is looked at again and must not be written over.
    if (!signal.aborted && found !== prepared) void session.saveCase(found, prepared);
    return found;
  };
  const { value } = useLoaded(look, [session, prepared?.id], [prepared]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what reads the same keeps its identity, so that nothing is planned twice.
  return useMemo(() => value, [JSON.stringify(value)]);
}
