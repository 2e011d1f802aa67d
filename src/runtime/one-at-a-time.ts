/** Runs at once; what is asked for while it runs is done once more afterwards, however often it was asked. */
export function oneAtATime(run: () => Promise<unknown>): () => void {
  let isRunning = false;
  let isAsked = false;
  const start = async (): Promise<void> => {
    isRunning = true;
    do {
      isAsked = false;
      await run().catch(() => undefined);
    } while (isAsked);
    isRunning = false;
  };
  return () => {
    if (isRunning) isAsked = true;
    else void start();
  };
}
