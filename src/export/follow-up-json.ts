/**
 * The entries of a follow-up as a file for other programs and for keeping, and what a terminal reads them from:
 * such a file, or the lines of a backup that was opened (`shared/guides/backup-file.md`, step 6). Every entry
 * is named by the SHA-256 of what it says, so that none can be changed unseen. Pure.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import * as v from 'valibot';
import {
  BACKUP_LINE_LENGTH_MAX,
  FACT_AFTER_MAX,
  ITEM_FACTS_MAX,
  JOURNALS_LENGTH_MAX,
} from '../base/caps.ts';
import { History } from '../base/history.ts';
import { fieldsOf, jsonOr } from '../base/json.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { isDay } from '../outcomes/days.ts';
import { foldFollowUp } from '../outcomes/follow-up.ts';
import type { FollowUp } from '../outcomes/follow-up-types.ts';
import { canonicalText, isStorable } from '../protocol/canonical-text.ts';
import { readJsonText } from '../protocol/json-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';

const FORMAT = 'lutewatch-follow-up';
const NAME = 'follow-up';
/** The kind of documents in which entries are stored. */
const STORED = 'fact-follow-up';

const hash = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/));

const entrySchema = v.strictObject({
  kind: v.literal('follow-up'),
  item: v.string(),
  said: v.unknown(),
  after: v.pipe(v.array(hash), v.maxLength(FACT_AFTER_MAX)),
  tablet: v.string(),
  by: v.nullable(v.string()),
  atWallMs: v.pipe(v.number(), v.finite()),
});

/** One entry as a tablet keeps it: `id` is the SHA-256 (hex) of the RFC 8785 text of all else. */
export interface FollowUpEntry extends v.InferOutput<typeof entrySchema> {
  readonly id: string;
}

const hashText = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)));

function readEntry(id: string, value: unknown): FollowUpEntry | null {
  if (!isStorable(value)) return null;
  const entry = parsedOr(entrySchema, value);
  return entry !== null && hashText(canonicalText(entry)) === id ? { ...entry, id } : null;
}

/** What a file was found to hold. */
export interface FollowUpFile {
  readonly followUps: readonly FollowUp[];
  /** The day on which it was made; a backup does not say it: the last day that is told of. */
  readonly today: string;
  /** Hash of the first entry of each case that the file has the record of. */
  readonly roots: ReadonlyMap<string, string>;
  /** Entries that are not what their name stands for, or that this version cannot read. */
  readonly problems: readonly Problem[];
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The entries, one a line, by case and name: the same entries and day give the same bytes. */
export function followUpFileText(o: {
  readonly entries: readonly Pick<FollowUpEntry, 'id' | 'item'>[];
  readonly today: string;
}): string {
  const head = JSON.stringify({ format: FORMAT, formatVersion: 1, today: o.today });
  const sorted = o.entries.toSorted((a, b) => compare(a.item, b.item) || compare(a.id, b.id));
  const lines = sorted.map((entry) => JSON.stringify(entry)).join(',\n');
  return `${head.slice(0, -1)},"entries":[\n${lines}${lines === '' ? '' : '\n'}]}\n`;
}

const damaged = (place: string, came: string): Problem =>
  problem(place, 'an entry that its id is the SHA-256 of', came, 'damaged-entry');

interface Found {
  readonly entries: readonly FollowUpEntry[];
  readonly problems: readonly Problem[];
}

interface Document {
  readonly place: string;
  readonly id: string;
  readonly value: unknown;
}

function entriesIn(documents: readonly Document[]): Found {
  const entries: FollowUpEntry[] = [];
  const problems: Problem[] = [];
  for (const { place, id, value } of documents) {
    const entry = readEntry(id, value);
    if (entry === null) problems.push(damaged(place, id));
    else entries.push(entry);
  }
  return { entries, problems };
}

function byItem(entries: readonly FollowUpEntry[]): ReadonlyMap<string, readonly FollowUpEntry[]> {
  const found = new Map<string, FollowUpEntry[]>();
  for (const entry of entries) {
    const before = found.get(entry.item);
    if (before === undefined) found.set(entry.item, [entry]);
    else before.push(entry);
  }
  return found;
}

/** Errors: `too-many` for a case with more entries than are told from each other in memory. */
function folded(
  { entries, problems }: Found,
  o: Pick<FollowUpFile, 'today' | 'roots'>,
): Result<FollowUpFile, Problem> {
  const followUps: FollowUp[] = [];
  const unread: Problem[] = [];
  for (const [item, own] of byItem(entries)) {
    if (own.length > ITEM_FACTS_MAX) {
      const expected = `at most ${ITEM_FACTS_MAX} entries of a case`;
      return err(problem(NAME, expected, own.length, 'too-many'));
    }
    const followUp = foldFollowUp(item, new History(own));
    followUps.push(followUp);
    for (const id of followUp.unread) {
      unread.push(problem(`${NAME} ${item}`, 'an entry of a known kind', id, 'unknown-entry'));
    }
  }
  followUps.sort((a, b) => compare(a.caseId, b.caseId));
  return ok({ followUps, problems: [...problems, ...unread], ...o });
}

function readEntries(text: string): Result<FollowUpFile, Problem> {
  const read = readJsonText(text, {
    name: NAME,
    lengthMax: JOURNALS_LENGTH_MAX,
    keepsUnseen: true,
  });
  if (!read.ok) return err(read.error.problem);
  const { format, formatVersion, today, entries } = fieldsOf(read.value.value);
  if (format !== FORMAT) {
    const expected = `${FORMAT}, or the lines of an opened backup`;
    return err(problem(`${NAME}.format`, expected, format, 'unknown-format'));
  }
  if (formatVersion !== 1) {
    return err(problem(`${NAME}.formatVersion`, '1', formatVersion, 'newer-format'));
  }
  if (typeof today !== 'string' || !isDay(today)) {
    return err(problem(`${NAME}.today`, 'a calendar day such as 2026-11-30', today, 'not-a-day'));
  }
  if (!Array.isArray(entries)) {
    return err(problem(`${NAME}.entries`, 'a list of entries', entries, 'no-entries'));
  }
  const documents = entries.map((entry: unknown, at) => {
    const { id, ...value } = fieldsOf(entry);
    return { place: `${NAME}.entries[${at}]`, id: typeof id === 'string' ? id : '', value };
  });
  return folded(entriesIn(documents), { today, roots: new Map() });
}

/** Stands for the day of a file in which nothing is told. */
const NO_DAY = '1970-01-01';

const lastDay = (followUps: readonly FollowUp[]): string =>
  followUps
    .flatMap(({ bonded, visits }) => [
      ...(bonded === null ? [] : [bonded.bondedOn, bonded.seenFrom ?? NO_DAY]),
      ...visits.map(({ visit }) => visit.onDay),
    ])
    .toSorted()
    .at(-1) ?? NO_DAY;

const changed = (came: string): Problem =>
  problem('backup', 'contents as this app writes them', came, 'backup-contents');

/** The lines between the first and the last have the sum that the last one says: nothing was cut or changed. */
function sumFault(lines: readonly string[]): Problem | null {
  const { record, sha256: said } = fieldsOf(jsonOr(lines.at(-1) ?? '')?.value);
  if (record !== 'end') return changed('no end');
  const sum = sha256.create();
  for (const line of lines.slice(1, -1)) sum.update(utf8ToBytes(`${line}\n`));
  return bytesToHex(sum.digest()) === said ? null : changed('another sum');
}

function readBackup(lines: readonly string[]): Result<FollowUpFile, Problem> {
  const fault = sumFault(lines);
  if (fault !== null) return err(fault);
  const roots = new Map<string, string>();
  const documents: Document[] = [];
  for (const [at, text] of lines.entries()) {
    if (text.length > BACKUP_LINE_LENGTH_MAX) return err(changed(`line ${at + 1} is too long`));
    const { record, body } = fieldsOf(jsonOr(text)?.value);
    const { kind, id, value, caseId, seq, hash: own } = fieldsOf(body);
    if (record === 'entry' && seq === 0 && typeof caseId === 'string' && typeof own === 'string') {
      roots.set(caseId, own);
    }
    // What was deleted with its case leaves a mark without a value.
    if (record !== 'document' || kind !== STORED || value === null) continue;
    documents.push({
      place: `backup, line ${at + 1}`,
      id: typeof id === 'string' ? id : '',
      value,
    });
  }
  const read = folded(entriesIn(documents), { today: NO_DAY, roots });
  return read.ok ? ok({ ...read.value, today: lastDay(read.value.followUps) }) : read;
}

const BACKUP_BEGINS = '"contents":"lutewatch-backup"';

/** Reads either kind of file. Errors: what the file is not; what of it does not hold is told beside the rest. */
export function readFollowUpFile(text: string): Result<FollowUpFile, Problem> {
  const plain = text.replace(/^\ufeff/, '');
  const end = plain.indexOf('\n');
  const first = end < 0 ? plain : plain.slice(0, end);
  const isBackup = first.includes(BACKUP_BEGINS) && jsonOr(first) !== null;
  return isBackup ? readBackup(plain.replace(/\n$/, '').split('\n')) : readEntries(plain);
}
