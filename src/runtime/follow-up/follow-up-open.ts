/** Reads the code of the follow-up when it is first asked for; no first screen needs it. */
import type { FollowUps, FollowUpsParts } from './follow-ups.ts';

/** Answers with the one follow-up of this window. */
export function followUpOpener(parts: FollowUpsParts): () => Promise<FollowUps> {
  let opened: Promise<FollowUps> | null = null;
  const open = async (): Promise<FollowUps> => {
    const { FollowUps } = await import('./follow-ups.ts');
    return new FollowUps(parts);
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
