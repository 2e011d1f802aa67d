/**
 * Protocol files that clinics hand each other. A file carries the hash of its protocol, so that a
 * change on the way shows; it arrives as an unconfirmed draft and never replaces anything.
 */
import * as v from 'valibot';
import { isRecord } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { parseJsonText } from '../../protocol/json-text.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import { readOutside } from '../../protocol/read-outside.ts';
import { list, record } from '../../protocol/schema-parts.ts';
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from './lead-documents.ts';

const FORMAT = 'lutewatch-protocol-file';
const ANCESTORS_MAX = 200;

interface ProtocolFile {
  readonly protocol: Protocol;
  readonly hash: string;
  /** Hashes of the revisions it came from, newest first: where two clinics last had the same. */
  readonly ancestors: readonly string[];
}

const NOTE_LENGTH_MAX = 900;

/** What another clinic confirmed is hearsay here: it becomes a note to compare with. */
function hearsay(basis: Readonly<Record<string, unknown>>): unknown {
  const { document, revision, page, confirmedBy, confirmedOn } = basis;
  const where = page === undefined ? '' : `, page ${String(page)}`;
  const note = `file says: ${String(document)}, ${String(revision)}${where}; ${String(confirmedBy)}, ${String(confirmedOn)}`;
  return { kind: 'practice', note: note.slice(0, NOTE_LENGTH_MAX) };
}

function unconfirmedValue(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(unconfirmedValue);
  if (!isRecord(value)) return value;
  if (value['kind'] === 'instructions') return hearsay(value);
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [key, unconfirmedValue(inner)]),
  );
}

/** The protocol with every confirmation of another clinic turned into a note. */
export function unconfirmed(protocol: Protocol): Protocol {
  const parsed = parseProtocol(unconfirmedValue(protocol));
  return parsed.ok ? parsed.value : protocol;
}

/** The text of a file for another clinic. */
export function protocolFileText(file: ProtocolFile): string {
  const { protocol, hash, ancestors } = file;
  return `${JSON.stringify({ format: FORMAT, formatVersion: 1, hash, ancestors, protocol }, null, 2)}\n`;
}

const hashSchema = v.pipe(
  v.string('64 hexadecimal digits'),
  v.regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits'),
);

const fileSchema = record(
  {
    format: v.literal(FORMAT, `"${FORMAT}"`),
    formatVersion: v.literal(1, 'the number 1'),
    hash: hashSchema,
    ancestors: v.optional(list(hashSchema, 'a list of hashes', ANCESTORS_MAX), []),
    protocol: v.unknown(),
  },
  'an object with "format"',
);

function within(problems: readonly Problem[]): Problem {
  const first = problems[0] ?? problem('protocol', 'a protocol document', undefined);
  return { ...first, place: `file.${first.place}` };
}

/** A file from elsewhere. Errors: the place of the first fault; `changed` when the hash differs. */
export function parseProtocolFile(value: unknown): Result<ProtocolFile, Problem> {
  const file = readOutside(fileSchema, value, 'file');
  if (!file.ok) return err(file.error[0]);
  const { hash, ancestors } = file.value;
  const parsed = parseProtocol(file.value.protocol);
  if (!parsed.ok) return err(within(parsed.error));
  const came = hashOf(parsed.value);
  if (came === null) {
    return err(problem('file.protocol', 'text without halves of characters', 'half a character'));
  }
  if (came !== hash) {
    const expected = `the protocol whose hash begins with ${hash.slice(0, 8)}`;
    return err(problem('file.protocol', expected, came.slice(0, 8), 'changed'));
  }
  return ok({ protocol: parsed.value, hash: came, ancestors });
}

/** Half a surrogate pair has no canonical form (RFC 8785, section 3.2.2.2). */
function hashOf(protocol: Protocol): string | null {
  try {
    return protocolHash(protocol);
  } catch {
    return null;
  }
}

/** The same from text: line and column when it is no JSON. */
export function parseProtocolFileText(text: string): Result<ProtocolFile, Problem> {
  const json = parseJsonText(text, 'file');
  return json.ok ? parseProtocolFile(json.value) : json;
}
