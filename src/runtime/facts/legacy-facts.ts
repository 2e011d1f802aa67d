/**
 * What was kept as one document with a counter becomes facts. The counter is kept as the fact's number:
 * it says in which order one tablet wrote. The same document becomes the same fact on every tablet, so
 * that old stores and old backups meet as the union of what they say. Pure.
 */
import { unreachable } from '../../base/assert.ts';
import { fieldsOf } from '../../base/json.ts';
import type { StoredDocument } from '../../storage/journal-types.ts';
import { asFact, type Fact, type FactKind } from './fact.ts';

/** Kinds of documents that were counted, in the words of their time. They are never written again. */
const COUNTED_KINDS = [
  'material',
  'light-reading',
  'prepared-case',
  'protocol',
  'approval',
  'approval-elsewhere',
  'retirement',
  'lead-log',
] as const;

type CountedKind = (typeof COUNTED_KINDS)[number];

const COUNTED: ReadonlySet<string> = new Set(COUNTED_KINDS);

export const isCounted = ({ kind }: Pick<StoredDocument, 'kind'>): boolean => COUNTED.has(kind);

type Told = { readonly kind: FactKind; readonly item: string; readonly said: unknown };

/** What a document of a counted kind says, as its room says it now; null where it says nothing. */
function toldBy(kind: CountedKind, { id, value }: StoredDocument): Told | null {
  const isGone = value === null;
  switch (kind) {
    case 'material':
      return { kind, item: id, said: isGone ? STRUCK : { type: 'was', material: value } };
    case 'light-reading':
      return { kind, item: id, said: isGone ? STRUCK : { type: 'read', reading: value } };
    case 'prepared-case':
      return { kind, item: id, said: isGone ? PUT_AWAY : { type: 'prepared', spec: value } };
    case 'protocol':
      return isGone ? null : ofProtocol(id, { type: 'written', protocol: value });
    case 'approval':
    case 'approval-elsewhere':
      return isGone ? null : ofProtocol(id, { type: 'confirmed', ...fieldsOf(value) });
    case 'retirement':
      return isGone ? null : ofProtocol(id, { type: 'retired', ...fieldsOf(value) });
    case 'lead-log':
      return isGone ? null : { kind, item: '', said: value };
    default:
      return unreachable(kind);
  }
}

const STRUCK = { type: 'struck' };
const PUT_AWAY = { type: 'put-away' };

const ofProtocol = (revisionId: string, said: unknown): Told => ({
  kind: 'protocol',
  item: revisionId.slice(0, revisionId.lastIndexOf('@')),
  said,
});

/** Counted up at each edit; of a protocol and of the log nothing was ever written twice. */
const EDITED: ReadonlySet<FactKind> = new Set(['material', 'light-reading', 'prepared-case']);

/**
 * The fact that a document of before stands for; null where it is of another kind, or says nothing.
 * @param o.tablet the tablet that wrote it, as far as that is known.
 */
export function factOfDocument(
  document: StoredDocument,
  o: { readonly tablet: string },
): Fact | null {
  const kind = COUNTED_KINDS.find((each) => each === document.kind);
  const told = kind === undefined ? null : toldBy(kind, document);
  if (told === null) return null;
  const item = told.kind === 'lead-log' ? o.tablet : told.item;
  // What a desk vouches for is told as of its tablet; the rest is the same wherever it was kept. A
  // confirmation that waited came from elsewhere.
  const tablet = kind === 'lead-log' || kind === 'approval' ? o.tablet : '';
  const plain = { ...told, item, after: [], tablet, by: null, atWallMs: 0 };
  return asFact(EDITED.has(told.kind) ? { ...plain, version: document.version } : plain);
}
