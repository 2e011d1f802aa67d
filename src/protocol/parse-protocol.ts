/** The only way from unknown data to a {@link Protocol}. Shape first; meaning is checked elsewhere. */
import { deepFreeze } from '../base/freeze.ts';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { impossibleDates, unseenFaults } from './document-problems.ts';
import { readOutside } from './read-outside.ts';
import { protocolSchema } from './schema-protocol.ts';
import type { Protocol } from './types.ts';

const NAME = 'protocol';

/**
 * Reads a protocol document. The result is a frozen copy; the input is left alone.
 * Errors: at most twenty problems, the most telling first, each with its place.
 */
export function parseProtocol(input: unknown): Result<Protocol, readonly Problem[]> {
  const parsed = readOutside(protocolSchema, input, NAME);
  if (!parsed.ok) return parsed;
  const faults = [
    ...unseenFaults({ input, output: parsed.value }, NAME),
    ...impossibleDates(parsed.value, NAME),
  ];
  return faults.length > 0 ? err(faults) : ok(deepFreeze(parsed.value));
}
