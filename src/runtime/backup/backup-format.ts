/**
 * The first line of a backup file, and what can be wrong with a file.
 *
 * A file is one line of JSON, a line feed, then chunks. Every chunk but the last holds `chunkBytes`
 * of plain bytes; each is AES-256-GCM with a tag of 16 bytes (NIST SP 800-38D). The nonce of chunk
 * `n` is `noncePrefix` (7 bytes), `n` as 32 bits, most significant first, and 1 for the last chunk
 * or 0; so chunks cannot be dropped, swapped or cut off unseen (STREAM of Hoang, Reyhanitabar,
 * Rogaway and Vizár, CRYPTO 2015, doi 10.1007/978-3-662-47989-6_24). The additional data of every
 * chunk is the RFC 8785 text of the first line without `bodyBytes`. The key is HKDF-SHA-256
 * (RFC 5869, no salt, info `lutewatch-backup key`) of PBKDF2-HMAC-SHA-256 (RFC 8018) of the
 * passphrase in Unicode NFKC; `check` is the first 8 bytes with the info `lutewatch-backup check`.
 * The plain bytes, unpacked with gzip (RFC 1952) where `compression` says so, are the lines of
 * `backup-lines.ts`.
 */
import * as v from 'valibot';
import { KEY_ITERATIONS_MAX } from '../../base/caps.ts';
import { fieldsOf } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import { readJsonText } from '../../protocol/json-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { base64 } from './backup-base64.ts';

export const BACKUP_FORMAT = 'lutewatch-backup';
export const CHUNK_BYTES = 1_048_576;
export const TAG_BYTES = 16;
export const NONCE_PREFIX_BYTES = 7;
export const SALT_BYTES = 16;
export const CHECK_BYTES = 8;
/** Figure of the OWASP password storage guidance, 2023, for PBKDF2 with HMAC-SHA-256. */
export const BACKUP_ITERATIONS = 600_000;
const CHUNK_BYTES_MAX = 16 * CHUNK_BYTES;
export const HEADER_BYTES_MAX = 4096;

type BackupProblemCode =
  | 'backup-not-one'
  | 'backup-unreadable'
  | 'backup-newer'
  | 'backup-wrong-passphrase'
  | 'backup-cut-short'
  | 'backup-altered'
  | 'backup-contents'
  | 'backup-no-crypto';

interface BackupProblem extends Problem {
  readonly code: BackupProblemCode;
}

/** Thrown inside a stream of chunks, caught where the stream is read to its end. */
export class BackupFault extends Error {
  override readonly name = 'BackupFault';
  readonly problem: BackupProblem;

  constructor(code: BackupProblemCode, o: { readonly expected: string; readonly came: unknown }) {
    super(code);
    this.problem = { ...problem('backup', o.expected, o.came), code };
  }
}

export interface BackupHeader {
  readonly format: typeof BACKUP_FORMAT;
  readonly formatVersion: 1;
  readonly compression: 'gzip' | 'none';
  readonly iterations: number;
  readonly chunkBytes: number;
  /** Base64. */
  readonly salt: string;
  readonly noncePrefix: string;
  readonly check: string;
  /** Length of everything after the first line. */
  readonly bodyBytes: number;
}

/** What every chunk is bound to. */
export function boundText(header: BackupHeader): string {
  const { bodyBytes: _, ...bound } = header;
  return canonicalText(bound);
}

const countSchema = (max: number) =>
  v.pipe(v.number(), v.safeInteger(), v.gtValue(0), v.maxValue(max));
/** Base64 of exactly so many bytes, as it is written: bits that carry nothing are zero. */
const base64Schema = (bytes: number) =>
  v.pipe(
    v.string(),
    v.regex(/^[A-Za-z0-9+/]+={0,2}$/),
    v.check((text) => text.length === Math.ceil(bytes / 3) * 4 && isAsWritten(text, bytes)),
  );

function isAsWritten(text: string, bytes: number): boolean {
  const decoded = base64.decode(text);
  return decoded.length === bytes && base64.encode(decoded) === text;
}

const headerSchema = v.object({
  format: v.literal(BACKUP_FORMAT),
  formatVersion: v.literal(1),
  compression: v.picklist(['gzip', 'none']),
  iterations: countSchema(KEY_ITERATIONS_MAX),
  chunkBytes: countSchema(CHUNK_BYTES_MAX),
  salt: base64Schema(SALT_BYTES),
  noncePrefix: base64Schema(NONCE_PREFIX_BYTES),
  check: base64Schema(CHECK_BYTES),
  bodyBytes: countSchema(Number.MAX_SAFE_INTEGER),
});

function refused(code: BackupProblemCode, expected: string, came: unknown) {
  return err<BackupProblem>({ ...problem('backup', expected, came), code });
}

/** Reads the first line of a file. */
export function parseHeader(text: string): Result<BackupHeader, BackupProblem> {
  const read = readJsonText(text, { name: 'backup', lengthMax: text.length, keepsUnseen: false });
  if (!read.ok) {
    const { problem: fault } = read.error;
    return fault.code === 'not-json'
      ? refused('backup-not-one', 'a backup of this app', text.slice(0, 20))
      : err({ ...fault, code: 'backup-altered' });
  }
  const { value } = read.value;
  const { format, formatVersion } = fieldsOf(value);
  if (format !== BACKUP_FORMAT) {
    return refused('backup-not-one', `the format "${BACKUP_FORMAT}"`, format);
  }
  if (formatVersion !== 1) return refused('backup-newer', 'format version 1', formatVersion);
  const header = parsedOr(headerSchema, value);
  return header === null
    ? refused('backup-altered', 'a first line as this app writes it', text.slice(0, 40))
    : ok(header);
}
