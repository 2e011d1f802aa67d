/**
 * What a backup holds, as lines of RFC 8785 JSON, each ended by a line feed:
 * `{"contents":"lutewatch-backup","record":"begin","version":1}`, then the entries of every case
 * (cases by id, entries in order, what was set apart of a case after them), what the two homes of
 * the journal could not agree about, every document, every mark of a deletion, and an end with
 * counts and the SHA-256 of all lines between, signed by the tablet (`backup-seal.ts`). Documents and marks carry epoch 0: it belongs to the
 * tablet, not to them.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import * as v from 'valibot';
import { NESTING_MAX } from '../../base/caps.ts';
import { isTooDeep, jsonOr, jsonText } from '../../base/json.ts';
import { problemLine } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { canonicalText, isStorable } from '../../protocol/canonical-text.ts';
import { readJsonText } from '../../protocol/json-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type {
  Journal,
  JournalEntry,
  JournalProblem,
  StoredDocument,
  Tombstone,
} from '../../storage/journal-types.ts';
import { RECORD_SCHEMAS } from '../../storage/parse-stored.ts';
import { isCounted } from '../facts/legacy-facts.ts';
import { LAYOUT } from '../facts/this-tablet.ts';
import type { SignEnd, Signed } from './backup-seal.ts';

export interface BackupCounts {
  readonly cases: number;
  readonly entries: number;
  readonly documents: number;
  readonly tombstones: number;
}

export type BackupLine =
  | { readonly record: 'begin' }
  | { readonly record: 'entry'; readonly body: JournalEntry }
  | { readonly record: 'apart'; readonly caseId: string; readonly content: unknown }
  | { readonly record: 'document'; readonly body: StoredDocument }
  | { readonly record: 'tombstone'; readonly body: Tombstone }
  | {
      readonly record: 'end';
      readonly counts: BackupCounts;
      readonly sha256: string;
      /** By the tablet that made it; absent in files of before, and where its browser has no keys. */
      readonly signed?: Signed;
    };

/** The kind of the documents in which a restore keeps what does not fit. */
export const SET_APART = 'set-apart';

export const NO_COUNTS: BackupCounts = { cases: 0, entries: 0, documents: 0, tombstones: 0 };
const BEGIN = { record: 'begin', contents: 'lutewatch-backup', version: 1 } as const;

/** Sums up the lines between begin and end. */
export class LineSum {
  readonly #hash = sha256.create();

  add(line: string): void {
    this.#hash.update(utf8ToBytes(line));
  }

  /** Lower-case hex. May be asked for once. */
  hex(): string {
    return bytesToHex(this.#hash.digest());
  }
}

const lineOf = (value: unknown): string => `${canonicalText(value)}\n`;

const byKey = <T>(keyOf: (item: T) => string) => {
  return (a: T, b: T): number => (keyOf(a) < keyOf(b) ? -1 : keyOf(a) > keyOf(b) ? 1 : 0);
};

/** Thrown inside the stream of lines; the maker of the backup turns it back into a problem. */
export class JournalFault extends Error {
  override readonly name = 'JournalFault';
  readonly problem: JournalProblem;

  constructor(problem: JournalProblem) {
    super(problem.code);
    this.problem = problem;
  }
}

function must<T>(result: Result<T, JournalProblem>): T {
  if (!result.ok) throw new JournalFault(result.error);
  return result.value;
}

/** What was set apart may be so broken that JSON cannot carry it; then its text is kept. */
const storable = (content: unknown): unknown => (isStorable(content) ? content : jsonText(content));

/** The lines between begin and end; tells how many cases are written so far. */
async function* contentLines(
  journal: Journal,
  count: (counts: Partial<BackupCounts>) => void,
): AsyncGenerator<string> {
  // Only the ids stay in memory while everything is read.
  const caseIds = must(await journal.listCases()).map(({ caseId }) => caseId);
  for (const caseId of caseIds.sort()) {
    const { entries, apart } = must(await journal.read(caseId));
    for (const body of entries) yield lineOf({ record: 'entry', body });
    for (const content of apart) {
      yield lineOf({ record: 'apart', caseId, content: storable(content) });
    }
    count({ cases: entries.length > 0 ? 1 : 0, entries: entries.length });
  }
  for (const content of must(await journal.listSetApart())) {
    yield lineOf({ record: 'apart', caseId: content.caseId ?? '', content: storable(content) });
  }
  const all = must(await journal.documents.listAll());
  // Once what was counted has become facts, the facts say it; what belongs to this tablet alone stays on it.
  const areFacts = all.some(({ kind }) => kind === LAYOUT);
  const documents = all.filter(
    (document) => document.kind !== LAYOUT && !(areFacts && isCounted(document)),
  );
  for (const body of documents.toSorted(byKey((d) => canonicalText([d.kind, d.id])))) {
    yield lineOf({ record: 'document', body: { ...body, epoch: 0 } });
  }
  const tombstones = must(await journal.listTombstones());
  for (const body of tombstones.toSorted(byKey((t) => t.caseId))) {
    yield lineOf({ record: 'tombstone', body: { ...body, epoch: 0 } });
  }
  count({ documents: documents.length, tombstones: tombstones.length });
}

/**
 * Everything a journal holds, line by line.
 * @throws JournalFault when the journal cannot be read.
 */
export async function* backupLines(
  journal: Journal,
  onProgress: (counts: BackupCounts) => void = () => undefined,
  sign: SignEnd | null = null,
): AsyncGenerator<string> {
  let counts = NO_COUNTS;
  const sum = new LineSum();
  yield lineOf(BEGIN);
  const lines = contentLines(journal, (more) => {
    counts = addCounts(counts, more);
    onProgress(counts);
  });
  for await (const line of lines) {
    sum.add(line);
    yield line;
  }
  const end = { counts, sha256: sum.hex() };
  const signed = sign === null ? {} : { signed: await sign(end) };
  yield lineOf({ record: 'end', ...end, ...signed });
}

/** Adds what was counted. */
export function addCounts(to: BackupCounts, more: Partial<BackupCounts>): BackupCounts {
  return {
    cases: to.cases + (more.cases ?? 0),
    entries: to.entries + (more.entries ?? 0),
    documents: to.documents + (more.documents ?? 0),
    tombstones: to.tombstones + (more.tombstones ?? 0),
  };
}

/** SHA-256 over everything that a backup of this journal would hold: equal contents, equal sums. */
export async function contentsSum(journal: Journal): Promise<string> {
  const sum = new LineSum();
  for await (const line of contentLines(journal, () => undefined)) sum.add(line);
  return sum.hex();
}

const hex = (bytes: number) => v.pipe(v.string(), v.regex(new RegExp(`^[0-9a-f]{${2 * bytes}}$`)));

const lineSchema = v.variant('record', [
  v.object({
    record: v.literal(BEGIN.record),
    contents: v.literal(BEGIN.contents),
    version: v.literal(BEGIN.version),
  }),
  ...RECORD_SCHEMAS,
  v.object({ record: v.literal('apart'), caseId: v.string(), content: v.unknown() }),
  v.object({
    record: v.literal('end'),
    counts: v.object({
      cases: v.number(),
      entries: v.number(),
      documents: v.number(),
      tombstones: v.number(),
    }),
    sha256: v.string(),
    signed: v.exactOptional(v.object({ publicKey: hex(32), signature: hex(64) })),
  }),
]);

/** What is wrong with a line that is not the text of its value: a key that is said twice, mostly. */
function faultOf(text: string): string {
  const read = readJsonText(text, { name: 'line', lengthMax: text.length, keepsUnseen: true });
  return read.ok ? 'as this app writes it' : problemLine(read.error.problem);
}

/** Reads one line without its line feed; the error says what it is not. */
export function parseBackupLine(text: string): Result<BackupLine, string> {
  const json = jsonOr(text);
  if (json === null) return err(isTooDeep(text) ? `nested at most ${NESTING_MAX} deep` : 'JSON');
  const line = parsedOr(lineSchema, json.value);
  if (line === null) return err('a known record');
  if (!isStorable(json.value)) return err('text without halves of characters');
  return canonicalText(json.value) === text ? ok(line) : err(faultOf(text));
}
