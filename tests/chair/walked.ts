/**
 * Cases that are brought to the same place for several tests. The presses on the way are mostly waiting, so
 * they are made in all of them together, before anything is timed.
 */

/** Answers the next one that was made ahead, or makes one where none is left. */
export function madeAhead<T>(count: number, make: () => Promise<T>): () => Promise<T> {
  const ahead = Array.from({ length: count }, make);
  // One that fails does so in the test that takes it.
  for (const each of ahead) each.catch(() => undefined);
  return () => ahead.shift() ?? make();
}
