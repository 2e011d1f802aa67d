/** Slow things that must not run beside one another. */

export type OneByOne = <T>(run: () => Promise<T>) => Promise<T>;

/**
 * Runs one after the other what is asked for, in the order of asking. Each caller hears its own answer; what fails is
 * its caller's to hear, and stops nothing that comes after it.
 */
export function oneByOne(): OneByOne {
  let last: Promise<unknown> = Promise.resolve();
  return (run) => {
    const done = last.then(run);
    last = done.catch(() => undefined);
    return done;
  };
}
