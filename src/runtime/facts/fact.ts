/**
 * A fact: one thing that happened to one item of the clinic, written once and never changed. Its id is
 * the SHA-256 (lower-case hex) of its RFC 8785 canonical JSON without the id, so the same fact is the
 * same everywhere, and bringing two tablets together is the union of their facts, in any order.
 * What holds of an item is the fold of its facts; no clock and no counter decides between tablets.
 */
import * as v from 'valibot';
import { FACT_AFTER_MAX } from '../../base/caps.ts';
import type { Result } from '../../base/result.ts';
import { ok } from '../../base/result.ts';
import { canonicalText, storableText } from '../../protocol/canonical-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { hashText } from '../../storage/hash-chain.ts';
import type { Journal, JournalProblem, StoredDocument } from '../../storage/journal-types.ts';

/** What facts are about. An item is one bottle, one reading, one prepared case, one protocol, the log of one desk, one case whose head was anchored, one product sheet, one person, one tablet, the clinic itself, what became of one case, what is asked of all of them. */
export const FACT_KINDS = [
  'material',
  'light-reading',
  'prepared-case',
  'protocol',
  'lead-log',
  'head',
  'sheet',
  'person',
  'tablet',
  'clinic',
  'follow-up',
  'outcome-review',
] as const;

export type FactKind = (typeof FACT_KINDS)[number];

export interface Fact {
  readonly id: string;
  readonly kind: FactKind;
  readonly item: string;
  /** What happened, as the room that it belongs to writes it. */
  readonly said: unknown;
  /** The last facts of this item that its writer knew. */
  readonly after: readonly string[];
  /** Id of the tablet on which it was said. */
  readonly tablet: string;
  /** Who said it; null where nobody was named. */
  readonly by: string | null;
  /** The wall clock of that tablet. It is shown, and decides nothing. */
  readonly atWallMs: number;
  /**
   * Of what was a counted document once, and became a fact when it was taken over: its number. A lower
   * one of the same item came before a higher one.
   */
  readonly version?: number;
}

type NewFact = Omit<Fact, 'id'>;

const hashSchema = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/));

const factSchema = v.strictObject({
  kind: v.picklist(FACT_KINDS),
  item: v.string(),
  said: v.unknown(),
  after: v.pipe(v.array(hashSchema), v.maxLength(FACT_AFTER_MAX)),
  tablet: v.string(),
  by: v.nullable(v.string()),
  atWallMs: v.pipe(v.number(), v.finite()),
  version: v.exactOptional(v.pipe(v.number(), v.safeInteger(), v.minValue(0))),
});

/** @throws Error when what is said holds something that JSON cannot carry. */
function factId(fact: NewFact): string {
  const { kind, item, said, after, tablet, by, atWallMs, version } = fact;
  const known = { kind, item, said, after, tablet, by, atWallMs };
  return hashText(canonicalText(version === undefined ? known : { ...known, version }));
}

export const asFact = (fact: NewFact): Fact => ({ ...fact, id: factId(fact) });

/** What is said of one item at once: a fact each, each behind the one before it; the first follows `after`. */
export function asFacts({
  said,
  ...about
}: Omit<NewFact, 'said'> & { readonly said: readonly unknown[] }): readonly Fact[] {
  const facts: Fact[] = [];
  for (const one of said) {
    const last = facts.at(-1);
    facts.push(asFact({ ...about, said: one, after: last ? [last.id] : about.after }));
  }
  return facts;
}

/** Under which kind of document the facts of one kind are stored. */
export const factDocument = (kind: FactKind): string => `fact-${kind}`;

const KIND_OF_DOCUMENT: ReadonlyMap<string, FactKind> = new Map(
  FACT_KINDS.map((kind) => [factDocument(kind), kind]),
);

/** The kind of fact that documents of this kind hold, or null where they hold none. */
export const factKindOf = (documentKind: string): FactKind | null =>
  KIND_OF_DOCUMENT.get(documentKind) ?? null;

/** The fact in a document; null when it is not the very thing that its name stands for. */
export function readFact({
  kind,
  id,
  value,
}: Pick<StoredDocument, 'kind' | 'id' | 'value'>): Fact | null {
  const text = storableText(value);
  if (text === null) return null;
  const parsed = parsedOr(factSchema, value);
  if (parsed === null || factDocument(parsed.kind) !== kind) return null;
  // Only what was a document is numbered, and it knew of nothing.
  if (parsed.version !== undefined && parsed.after.length > 0) return null;
  const { version, ...rest } = parsed;
  const fact: NewFact = version === undefined ? rest : { ...rest, version };
  // The schema takes no member more: its text is that of the fact.
  return hashText(text) === id ? { ...fact, id } : null;
}

/** What is stored of a fact: its name says its content. */
export function documentOf({ id, ...value }: Fact): Omit<StoredDocument, 'version' | 'epoch'> {
  return { kind: factDocument(value.kind), id, value };
}

export interface ReadFacts {
  readonly facts: readonly Fact[];
  /** Documents that are not what their name stands for; they stay stored as they are. */
  readonly damaged: readonly StoredDocument[];
}

/** Every fact of one kind. Errors: the journal's. */
export async function listFacts(
  journal: Pick<Journal, 'documents'>,
  kind: FactKind,
): Promise<Result<ReadFacts, JournalProblem>> {
  const listed = await journal.documents.list(factDocument(kind));
  if (!listed.ok) return listed;
  const facts: Fact[] = [];
  const damaged: StoredDocument[] = [];
  for (const document of listed.value) {
    const fact = readFact(document);
    if (fact === null) damaged.push(document);
    else facts.push(fact);
  }
  return ok({ facts, damaged });
}

/** Keeps a fact. Keeping it again changes nothing; what is damaged under its name gives way. Errors: the journal's. */
export async function keepFact(
  journal: Pick<Journal, 'documents'>,
  fact: Fact,
  epoch: number,
): Promise<Result<null, JournalProblem>> {
  const document = documentOf(fact);
  const stored = await journal.documents.adopt({ ...document, version: 1, epoch });
  if (!stored.ok) return stored;
  if (stored.value.taken) return ok(null);
  const { kind, id } = document;
  const here = await journal.documents.get(kind, { id });
  if (!here.ok) return here;
  if (readFact({ kind, id, value: here.value }) !== null) return ok(null);
  const put = await journal.documents.put({ ...document, epoch });
  return put.ok ? ok(null) : put;
}
