/**
 * Drafts of another desk, as they come in to a tablet with a lead of its own: what was typed there is
 * kept, what was read or confirmed there counts for nothing here. The shape of a draft is judged where
 * it is read; nothing is asked of it here.
 */
import { isRecord, type JsonFields } from '../../base/json.ts';
import type { StoredDocument } from '../../storage/journal-types.ts';
import { DRAFT, DRAFT_EDITS, SHEET_DRAFT } from '../lead/lead-documents.ts';
import { unconfirmedValue } from '../lead/lead-protocol-file.ts';

/** What was typed stays typed, to be compared with the document at this desk; every other answer is taken back. */
function unreadLine(line: unknown): unknown {
  if (!isRecord(line)) return line;
  const answer = line['answer'] === 'typed' ? 'typed' : 'open';
  return { ...line, answer, read: null, areWordsRead: answer === 'open' };
}

function unreadSheet(value: JsonFields): JsonFields {
  const { lines } = value;
  return { ...value, lines: Array.isArray(lines) ? lines.map(unreadLine) : lines };
}

/** An edit that would put a confirmation together word by word: the editor makes none of this kind. */
function isPieceOfBasis(edit: unknown): boolean {
  if (!isRecord(edit) || !isRecord(edit['spot'])) return false;
  const { key } = edit['spot'];
  return typeof key === 'string' && key.split('.').includes('basis') && !isRecord(edit['value']);
}

function unconfirmedEdits(value: JsonFields): JsonFields {
  const { edits, done } = value;
  if (!Array.isArray(edits) || typeof done !== 'number') return value;
  const left = edits.filter((edit) => !isPieceOfBasis(edit));
  const leftDone = edits.slice(0, done).filter((edit) => !isPieceOfBasis(edit)).length;
  return { ...value, edits: left.map(unconfirmedValue), done: leftDone };
}

/** The document as it holds on a tablet whose own lead has seen nothing of it. */
export function asFromElsewhere(document: StoredDocument): StoredDocument {
  const { kind, value } = document;
  if (!isRecord(value)) return document;
  switch (kind) {
    case SHEET_DRAFT:
      return { ...document, value: unreadSheet(value) };
    case DRAFT:
      return { ...document, value: { ...value, start: unconfirmedValue(value['start']) } };
    case DRAFT_EDITS:
      return { ...document, value: unconfirmedEdits(value) };
    default:
      return document;
  }
}
