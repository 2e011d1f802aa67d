/** Reads the code of drills when it is first asked for; no first screen needs it. */

import type { SessionParts } from '../session-parts.ts';
import type { Drills, DrillsHost } from './drills.ts';

/** Answers with the one set of drills of this window. */
export function drillsOpener(parts: SessionParts, host: DrillsHost): () => Promise<Drills> {
  let opened: Promise<Drills> | null = null;
  const open = async (): Promise<Drills> => {
    const { Drills } = await import('./drills.ts');
    return new Drills(parts, host);
  };
  return () => {
    // What could not be loaded now may be there the next time.
    opened ??= open().catch((thrown: unknown) => {
      opened = null;
      throw thrown;
    });
    return opened;
  };
}
