/**
 * What happened to a prepared case, and what it is now. Two tablets that changed it without knowing of
 * each other are both told, until somebody keeps it again; what was put away on one and changed on the
 * other stays.
 */
import * as v from 'valibot';
import { fieldsOf } from '../../base/json.ts';
import type { Problem } from '../../base/problem.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { parseCase } from '../../protocol/parse-case.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Fact } from '../facts/fact.ts';
import { FactHistory, headsOf } from '../facts/fact-history.ts';

const saidSchema = v.variant('type', [
  v.object({
    type: v.literal('prepared'),
    spec: v.unknown(),
    /** Invented, of the demonstration: every tablet dates its own. */
    demo: v.exactOptional(v.boolean()),
  }),
  v.object({ type: v.literal('put-away') }),
]);

export type CaseSaid = v.InferOutput<typeof saidSchema>;

/** One of the states in which a case stands, with the fact that says it. */
interface PreparedSide {
  readonly spec: CaseFile;
  readonly fact: Fact;
}

interface PreparedEntry {
  /** With the allergies of the others too. Null when it was put away, or cannot be read. */
  readonly spec: CaseFile | null;
  /** Others that were prepared under the same id on tablets that did not know of it. */
  readonly others: readonly CaseFile[];
  /** Where there are others: each of them once, and last the one that is shown, as they were prepared. */
  readonly sides: readonly PreparedSide[];
  readonly problems: readonly Problem[];
  /** Its name, where it stands and cannot be read. */
  readonly unread: string | null;
}

/** The title that a case file has, whatever else is wrong with it; else `otherwise`. */
export function caseName(spec: unknown, otherwise: string): string {
  const { title } = fieldsOf(spec);
  return typeof title === 'string' && title.trim() !== '' ? title : otherwise;
}

/** What people prepared: the paces that the app works out from past records are no part of it. */
const preparedText = ({ paces: _, changeOvers: __, ...spec }: CaseFile): string =>
  canonicalText(spec);

const withoutAllergies = ({ allergies: _, ...spec }: CaseFile): string => preparedText(spec);

/** Each allergy that any of them names, once: one that a tablet knows of is never left out. */
function withAllAllergies(spec: CaseFile, others: readonly CaseFile[]): CaseFile {
  const named = new Map<string, string>();
  for (const { allergies = '' } of [spec, ...others]) {
    for (const text of allergies.split(/[;\n]/).map((part) => part.trim())) {
      const key = text.toLowerCase();
      if (text !== '' && !named.has(key)) named.set(key, text);
    }
  }
  return named.size === 0 ? spec : { ...spec, allergies: [...named.values()].join('; ') };
}

/**
 * Of the facts of a case the last ones that prepared it as `base` has it: what the writer of a change had
 * before them. Every last one where none did.
 */
export function seenAs(base: CaseFile) {
  return (known: readonly Fact[]): readonly string[] => {
    const sameBy = (text: (spec: CaseFile) => string): readonly Fact[] =>
      known.filter((fact) => {
        const said = parsedOr(saidSchema, fact.said);
        const spec = said?.type === 'prepared' ? parseCase(said.spec) : null;
        return spec?.ok === true && text(spec.value) === text(base);
      });
    const exact = sameBy(preparedText);
    // Shown with the allergies of all, it stands in no fact as it is shown.
    const same = exact.length > 0 ? exact : sameBy(withoutAllergies);
    const last = new FactHistory(known).lastOf(same).map(({ id }) => id);
    return last.length > 0 ? last : headsOf(known);
  };
}

/** The same from two tablets is one. */
function distinct(sides: readonly PreparedSide[]): readonly PreparedSide[] {
  const texts = sides.map(({ spec }) => preparedText(spec));
  return sides.filter((_, at) => texts.indexOf(texts[at] ?? '') === at);
}

/** The prepared case that these facts are about. */
export function preparedEntry(facts: readonly Fact[]): PreparedEntry {
  const history = new FactHistory(facts);
  const all = history.inOrder.flatMap((fact) => {
    const one = parsedOr(saidSchema, fact.said);
    return one === null ? [] : [{ fact, said: one }];
  });
  // What the demonstration brings is no word of the clinic: another tablet's gives way to any.
  const own = all.filter(({ said: one }) => one.type !== 'prepared' || one.demo !== true);
  const said = own.length > 0 ? own : all;
  const last = new Set(history.lastOf(said.map(({ fact }) => fact)));
  const standing = said.flatMap(({ fact, said: one }) =>
    last.has(fact) && one.type === 'prepared' ? [{ ...one, fact }] : [],
  );
  const problems: Problem[] = [];
  const read: PreparedSide[] = [];
  for (const { spec, fact } of standing) {
    const parsed = parseCase(spec);
    if (parsed.ok) read.push({ spec: parsed.value, fact });
    else problems.push(...parsed.error);
  }
  const newest = read.at(-1);
  const spec = newest?.spec ?? null;
  const isDemo = standing.every(({ demo }) => demo === true);
  const text = spec === null ? '' : preparedText(spec);
  const beside = isDemo ? [] : read.filter((other) => preparedText(other.spec) !== text);
  const others = beside.map((side) => side.spec);
  const isUnread = spec === null && (problems.length > 0 || said.length === 0);
  const name = caseName(standing.at(-1)?.spec, facts[0]?.item ?? '');
  const shown = spec === null || others.length === 0 ? spec : withAllAllergies(spec, others);
  const sides = newest === undefined || beside.length === 0 ? [] : [...distinct(beside), newest];
  return { spec: shown, others, sides, problems, unread: isUnread ? name : null };
}
