/** The only way from unknown data to a {@link Protocol}. Shape first; meaning is checked elsewhere. */
import * as v from 'valibot';
import { deepFreeze } from '../base/freeze.ts';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { impossibleDates, issuesToProblems, unseenFaults } from './document-problems.ts';
import { parseJsonText } from './json-text.ts';
import { protocolSchema } from './schema-protocol.ts';
import type { Protocol } from './types.ts';

const NAME = 'protocol';

/**
 * Reads a protocol document. The result is a frozen copy; the input is left alone.
 * Errors: at most twenty problems, the most telling first, each with its place.
 */
export function parseProtocol(input: unknown): Result<Protocol, readonly Problem[]> {
  const parsed = v.safeParse(protocolSchema, input, { abortPipeEarly: true });
  if (!parsed.success) return err(issuesToProblems(parsed.issues, NAME));
  const faults = [
    ...unseenFaults({ input, output: parsed.output }, NAME),
    ...impossibleDates(parsed.output, NAME),
  ];
  return faults.length > 0 ? err(faults) : ok(deepFreeze(parsed.output));
}

/** Reads a protocol from text: one problem with line and column when it is not JSON. */
export function parseProtocolText(text: string): Result<Protocol, readonly Problem[]> {
  const json = parseJsonText(text, NAME);
  return json.ok ? parseProtocol(json.value) : err([json.error]);
}
