/**
 * Protocol files that clinics hand each other. A file carries the hash of its protocol, so that a
 * change on the way shows; it arrives as an unconfirmed draft and never replaces anything.
 */
import * as v from 'valibot';
import { TEXT_LENGTH_MAX } from '../../base/caps.ts';
import { isRecord } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { asNote } from '../../protocol/edit-unread.ts';
import { parseJsonText } from '../../protocol/json-text.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import { readOutside } from '../../protocol/read-outside.ts';
import { list, record } from '../../protocol/schema-parts.ts';
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from './lead-documents.ts';
import type { Revision } from './lead-revisions.ts';

const FORMAT = 'lutewatch-protocol-file';
const ANCESTORS_MAX = 200;

/** Who handed a file on, as they said it themselves; empty where they said nothing. */
export interface Sender {
  readonly clinic: string;
  /** The clinic lead's label. */
  readonly by: string;
  /** Random id of the tablet. */
  readonly tablet: string;
  /** When, by that tablet's clock, ms since 1970. */
  readonly onWallMs: number;
}

interface ProtocolFile {
  readonly protocol: Protocol;
  readonly hash: string;
  /** Hashes of the revisions it came from, newest first: where two clinics last had the same. */
  readonly ancestors: readonly string[];
  /** Null in files of before, which named nobody. */
  readonly from: Sender | null;
}

/** The same for any part of a protocol, or of an edit of one. */
export function unconfirmedValue(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(unconfirmedValue);
  if (!isRecord(value)) return value;
  // What another clinic confirmed is hearsay here: it becomes a note to compare with.
  if (value['kind'] === 'instructions') return asNote('file says', value);
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [key, unconfirmedValue(inner)]),
  );
}

/** The protocol with every confirmation of another clinic turned into a note. */
export function unconfirmed(protocol: Protocol): Protocol {
  const parsed = parseProtocol(unconfirmedValue(protocol));
  return parsed.ok ? parsed.value : protocol;
}

/** Where a draft begins: what nobody confirmed at this desk is read here before it counts. */
export function readHere(
  protocol: Protocol,
  revisions: readonly Pick<Revision, 'hash' | 'approval'>[],
): Protocol {
  const hash = protocolHash(protocol);
  const kept = revisions.find((revision) => revision.hash === hash);
  return kept?.approval === null ? unconfirmed(protocol) : protocol;
}

/** Where a draft begins that is made of a file. */
export const draftOfFile = ({ protocol, hash, ancestors, from }: ProtocolFile) =>
  ({ start: unconfirmed(protocol), startHash: hash, origin: 'import', ancestors, from }) as const;

/** The text of a file for another clinic. */
export function protocolFileText(file: ProtocolFile): string {
  const { protocol, hash, ancestors, from } = file;
  const head =
    from === null
      ? { format: FORMAT, formatVersion: 1 }
      : { format: FORMAT, formatVersion: 2, from };
  return `${JSON.stringify({ ...head, hash, ancestors, protocol }, null, 2)}\n`;
}

const hashSchema = v.pipe(
  v.string('64 hexadecimal digits'),
  v.regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits'),
);

const SENDER_LENGTH_MAX = 200;
/** The last millisecond that a date can name (ECMA-262, time values). */
const WALL_MS_MAX = 8.64e15;

const named = (what: string) =>
  v.pipe(v.string(what), v.maxLength(SENDER_LENGTH_MAX, `at most ${SENDER_LENGTH_MAX} characters`));

export const senderSchema = record(
  {
    clinic: named('the name of a clinic'),
    by: named('a label of a person'),
    tablet: named('the id of a tablet'),
    onWallMs: v.pipe(
      v.number('a time in ms since 1970'),
      v.minValue(0, 'a time in ms since 1970'),
      v.maxValue(WALL_MS_MAX, 'a time in ms since 1970'),
    ),
  },
  'who sent it',
);

const fileSchema = record(
  {
    format: v.literal(FORMAT, `"${FORMAT}"`),
    formatVersion: v.picklist([1, 2], 'the number 1 or 2'),
    from: v.optional(senderSchema),
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
  const { hash, ancestors, from = null } = file.value;
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
  return ok({ protocol: parsed.value, hash: came, ancestors, from });
}

/** Half a surrogate pair has no canonical form (RFC 8785, section 3.2.2.2). */
function hashOf(protocol: Protocol): string | null {
  try {
    return protocolHash(protocol);
  } catch {
    return null;
  }
}

/** No character of UTF-16 takes more bytes of UTF-8. */
const BYTES_MAX = 3 * TEXT_LENGTH_MAX;
const MILLION = 1_000_000;

/**
 * The text of a file that somebody picked. Errors: `too-large` before anything of it is read, and
 * `unreadable`: a file in another app's keeping can be gone by the time it is read.
 */
export async function pickedText(file: Blob): Promise<Result<string, Problem>> {
  if (file.size > BYTES_MAX) {
    const expected = `a file of at most ${TEXT_LENGTH_MAX / MILLION} MB`;
    const came = `${(file.size / MILLION).toFixed(1)} MB`;
    return err({ code: 'too-large', place: 'file', expected, came });
  }
  try {
    return ok(await file.text());
  } catch (thrown) {
    const came = thrown instanceof Error ? thrown.name : thrown;
    return err(problem('file', 'a file that can be read', came, 'unreadable'));
  }
}

/** The same from text: line and column when it is no JSON. */
export function parseProtocolFileText(text: string): Result<ProtocolFile, Problem> {
  const json = parseJsonText(text, 'file');
  return json.ok ? parseProtocolFile(json.value) : json;
}
