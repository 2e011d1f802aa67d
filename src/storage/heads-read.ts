/** Reads what the places outside the two homes remember, and puts it together. */
import * as v from 'valibot';
import { fieldsOf, jsonOr } from '../base/json.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { hashText } from './hash-chain.ts';
import { type CaseHead, type Heads, type HeadsPlace, NO_HEADS } from './heads.ts';
import { type Damage, NO_DAMAGE } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';

const count = v.pipe(v.number(), v.safeInteger(), v.minValue(0));
const about = { caseId: v.string(), title: v.string(), chartRef: v.string(), head: v.string() };
const damageSchema = v.object({
  cases: v.array(v.object({ ...about, known: count, left: count, apart: count })),
  unnamed: count,
  unreadable: count,
  isNoted: v.boolean(),
});
const headsSchema = v.object({
  cases: count,
  recent: v.array(v.object({ ...about, entries: count })),
  file: v.nullable(v.object({ name: v.string(), bytes: count })),
  damage: damageSchema,
});

/** What the places and the database remember together. */
export async function recallHeads(
  database: JournalDatabase,
  places: readonly HeadsPlace[],
): Promise<Heads> {
  const texts = await Promise.all(places.map((place) => place.read().catch(() => [])));
  const found = texts.flat().flatMap((text) => parseHeads(text) ?? []);
  const damage = parseDamage(await database.get('meta', 'damage'));
  return joinHeads([...found, { ...NO_HEADS, damage }]);
}

/** What a text says, or null when it was damaged. */
function parseHeads(text: string): Heads | null {
  const fields = fieldsOf(jsonOr(text)?.value);
  const heads = parsedOr(headsSchema, fields['body']);
  if (heads === null) return null;
  return fields['sum'] === hashText(canonicalText(heads)) ? heads : null;
}

/** What was kept of the damage, or none. */
export function parseDamage(value: unknown): Damage {
  return parsedOr(damageSchema, value) ?? NO_DAMAGE;
}

/** All that any of the places knows: the most cases, and the longest of each. */
function joinHeads(all: readonly Heads[]): Heads {
  return all.reduce(
    (a, b) => ({
      cases: Math.max(a.cases, b.cases),
      recent: longest([...a.recent, ...b.recent]),
      file: (a.file?.name ?? '') > (b.file?.name ?? '') ? a.file : longer(b.file, a.file),
      damage: joinDamage(a.damage, b.damage),
    }),
    NO_HEADS,
  );
}

function longer(one: Heads['file'], other: Heads['file']): Heads['file'] {
  return one?.name === other?.name && (other?.bytes ?? 0) > (one?.bytes ?? 0) ? other : one;
}

function longest(heads: readonly CaseHead[]): readonly CaseHead[] {
  const found = new Map<string, CaseHead>();
  for (const head of heads) {
    if ((found.get(head.caseId)?.entries ?? -1) < head.entries) found.set(head.caseId, head);
  }
  return [...found.values()];
}

/** Both together; of a case that both tell of, what the second says. */
export function joinDamage(before: Damage, more: Damage): Damage {
  const cases = new Map(before.cases.map((c) => [c.caseId, c]));
  for (const one of more.cases) cases.set(one.caseId, one);
  const joined = {
    cases: [...cases.values()].toSorted((a, b) => (a.caseId < b.caseId ? -1 : 1)),
    unnamed: Math.max(before.unnamed, more.unnamed),
    unreadable: Math.max(before.unreadable, more.unreadable),
  };
  // People have seen it only where they have seen all of it.
  const noted = [before, more].some((d) => d.isNoted && isSameDamage(d, joined));
  return { ...joined, isNoted: noted };
}

type Found = Omit<Damage, 'isNoted'>;

function isSameDamage(one: Found, other: Found): boolean {
  const text = ({ cases, unnamed, unreadable }: Found): string =>
    canonicalText({ cases, unnamed, unreadable });
  return text(one) === text(other);
}
