/**
 * Protocols and cases that come as text. What the app starts with comes as values, so the reader of
 * text stands apart and is loaded with what needs it.
 */
import type { Problem } from '../base/problem.ts';
import { err, type Result } from '../base/result.ts';
import type { CaseFile } from './case-types.ts';
import { parseJsonText } from './json-text.ts';
import { parseCase } from './parse-case.ts';
import { parseProtocol } from './parse-protocol.ts';
import type { Protocol } from './types.ts';

/** Reads a case file from text: one problem with line and column when it is not JSON. */
export function parseCaseText(text: string): Result<CaseFile, readonly Problem[]> {
  const json = parseJsonText(text, 'case');
  return json.ok ? parseCase(json.value) : err([json.error]);
}

/** Reads a protocol from text: one problem with line and column when it is not JSON. */
export function parseProtocolText(text: string): Result<Protocol, readonly Problem[]> {
  const json = parseJsonText(text, 'protocol');
  return json.ok ? parseProtocol(json.value) : err([json.error]);
}
