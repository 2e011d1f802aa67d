/** Thrown when the program contradicts itself. The message is for developers, never for the chair. */
export class InvariantError extends Error {
  override readonly name = 'InvariantError';
}

/** Stops with an {@link InvariantError} when `condition` is false. Stays on in production. */
export function assert(condition: boolean, message: string): asserts condition {
  if (!condition) throw new InvariantError(message);
}

/** Closes a switch over a union: the compiler proves that nothing reaches it. */
export function unreachable(never: never): never {
  throw new InvariantError(`unreachable case: ${JSON.stringify(never)}`);
}

/** Returns `value`, or throws when it is missing. For look-ups that an earlier check has made certain. */
export function present<T>(value: T | undefined | null, what: string): T {
  if (value === undefined || value === null) throw new InvariantError(`${what} is missing`);
  return value;
}
