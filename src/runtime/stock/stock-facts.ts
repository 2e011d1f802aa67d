/**
 * What happened to a bottle, and the entry of the stock list that follows from it. A recall stands until
 * it is lifted by its name, and what is used up stays so until that is taken back by its name, whatever
 * else was written meanwhile on other tablets. Of every other field the last word counts; where two tablets
 * did not know of each other, both are told until somebody writes the field again.
 */
import * as v from 'valibot';
import { unreachable } from '../../base/assert.ts';
import { isSameJson } from '../../base/json.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Fact } from '../facts/fact.ts';
import { FactHistory } from '../facts/fact-history.ts';
import { sameLot } from './same-lot.ts';
import {
  type LightReading,
  type Material,
  parseLightReading,
  parseMaterial,
} from './stock-types.ts';

const hashes = v.array(v.string());

const saidSchema = v.variant('type', [
  /** The entry as it was before entries became facts. */
  v.object({ type: v.literal('was'), material: v.unknown() }),
  v.object({
    type: v.literal('received'),
    fields: v.record(v.string(), v.unknown()),
    /** Invented, of the demonstration: every tablet dates its own. */
    demo: v.exactOptional(v.boolean()),
  }),
  /** Null takes a field away. */
  v.object({ type: v.literal('corrected'), fields: v.record(v.string(), v.unknown()) }),
  v.object({ type: v.literal('opened'), on: v.nullable(v.string()) }),
  v.object({ type: v.literal('taken-out'), atWallMs: v.nullable(v.number()) }),
  /** Of a lot; earlier ones name none: they are of the lot that the box had then. */
  v.object({
    type: v.literal('recalled'),
    onWallMs: v.number(),
    reason: v.string(),
    lot: v.exactOptional(v.string()),
  }),
  /** Earlier ones say no reason. */
  v.object({
    type: v.literal('recall-lifted'),
    of: hashes,
    reason: v.exactOptional(v.string()),
  }),
  v.object({ type: v.literal('used-up'), onWallMs: v.number() }),
  v.object({ type: v.literal('back-on-shelf'), of: hashes }),
  /** Entered by mistake; or never a box, only a lot that is recalled. */
  v.object({ type: v.literal('struck'), lotOnly: v.exactOptional(v.literal(true)) }),
]);

export type MaterialSaid = v.InferOutput<typeof saidSchema>;

/** Two or more values of one field whose writers did not know of each other. */
export interface Differing {
  readonly field: string;
  readonly values: readonly unknown[];
}

/** One thing that was done to a box. */
export interface StockEvent {
  readonly id: string;
  readonly said: MaterialSaid;
  /** Null where nobody was named. */
  readonly by: string | null;
  readonly tablet: string;
  readonly atWallMs: number;
}

/** A recall that stands, as one box carries it. */
export interface LotRecall {
  readonly fact: string;
  readonly lot: string;
  readonly onWallMs: number;
  readonly reason: string;
}

export interface StockEntry {
  readonly material: Material;
  readonly recalls: readonly LotRecall[];
  readonly differing: readonly Differing[];
  /** Entered by mistake: no longer on the list, but a recall that it carries still counts for the lot. */
  readonly isStruck: boolean;
  /** What was done to it, each behind what its writer knew. */
  readonly events: readonly StockEvent[];
  /** The last facts of it that this tablet knows. */
  readonly heads: readonly string[];
  /** Facts that say it is used up. */
  readonly standing: { readonly ends: readonly string[] };
}

/** Said by facts of their own, not as fields of an entry. */
const HAPPENED = new Set(['id', 'openedOn', 'takenOutWallMs', 'recalled', 'goneOnWallMs']);

interface Spoken {
  readonly fact: Fact;
  readonly said: MaterialSaid;
}

type Fields = Readonly<Record<string, unknown>>;

/** What each said thing writes into which field; null takes the field away. */
export function writtenBy(said: MaterialSaid): Fields {
  switch (said.type) {
    case 'received':
    case 'corrected':
      return said.fields;
    case 'opened':
      return { openedOn: said.on };
    case 'taken-out':
      return { takenOutWallMs: said.atWallMs };
    case 'was': {
      const {
        recalled: _,
        goneOnWallMs: __,
        id: ___,
        ...fields
      } = parseMaterial(said.material) ?? {};
      return fields;
    }
    case 'recalled':
    case 'recall-lifted':
    case 'used-up':
    case 'back-on-shelf':
    case 'struck':
      return {};
    default:
      return unreachable(said);
  }
}

const earlier = (a: unknown, b: unknown): boolean => String(a) < String(b);
const fewer = (a: unknown, b: unknown): boolean => Number(a) < Number(b);

/** Until two tablets that differ are settled, the one counts that is warned of sooner. */
const COUNTS_MEANWHILE: Readonly<Record<string, (a: unknown, b: unknown) => boolean>> = {
  expiry: earlier,
  openedOn: earlier,
  useWithinDays: fewer,
  warmUpMinutes: (a, b) => fewer(b, a),
  takenOutWallMs: (a, b) => fewer(b, a),
  refrigerated: (a) => a === true,
};

/** What holds of values that stand side by side. */
function heldOf(field: string, values: readonly unknown[]): unknown {
  const said = values.filter((value) => value !== null);
  const counts = COUNTS_MEANWHILE[field];
  return counts === undefined
    ? values.at(-1)
    : said.reduce((held, each) => (counts(each, held) ? each : held), said[0]);
}

/** The last words on every field: one value, or as many as were written without knowing of each other. */
function fieldsFrom(history: FactHistory, spoken: readonly Spoken[]) {
  const fields: Record<string, unknown> = {};
  const differing: Differing[] = [];
  const names = new Set(spoken.flatMap(({ said }) => Object.keys(writtenBy(said))));
  for (const field of [...names].toSorted()) {
    // What an entry of before did not have, it had not.
    const all = spoken.filter(
      ({ said }) => said.type === 'was' || Object.hasOwn(writtenBy(said), field),
    );
    // What the demonstration brings is no word of the clinic: another tablet's gives way to any.
    const own = all.filter(({ said }) => said.type !== 'received' || said.demo !== true);
    const writers = own.length > 0 ? own : all;
    const last = new Set(history.lastOf(writers.map(({ fact }) => fact)));
    const values = writers
      .filter(({ fact }) => last.has(fact))
      .map(({ said }) => writtenBy(said)[field] ?? null);
    const distinct = values.filter(
      (value, at) => values.findIndex((v) => isSameJson(v, value)) === at,
    );
    const value = heldOf(field, distinct);
    if (value !== undefined && value !== null) fields[field] = value;
    const isDemo = writers.every(({ said }) => said.type === 'received' && said.demo === true);
    if (distinct.length > 1 && !isDemo) differing.push({ field, values: distinct });
  }
  return { fields, differing };
}

/** Facts that put a mark, as far as none that names them took it away. */
function standing(
  spoken: readonly Spoken[],
  o: {
    readonly marks: (spoken: Spoken) => boolean;
    readonly ends: MaterialSaid['type'];
    readonly counts?: (fact: Fact) => boolean;
  },
): readonly Spoken[] {
  const { counts = () => true } = o;
  const ended = new Set(
    spoken.flatMap(({ fact, said }) =>
      said.type === o.ends && 'of' in said && counts(fact) ? said.of : [],
    ),
  );
  return spoken.filter((each) => o.marks(each) && !ended.has(each.fact.id));
}

const recallOf = (said: MaterialSaid): Material['recalled'] => {
  if (said.type === 'recalled') {
    const { type: _, ...recalled } = said;
    return recalled;
  }
  return said.type === 'was' ? parseMaterial(said.material)?.recalled : undefined;
};

/** @param lastVersion of an entry of before only the last one tells whether it was used up. */
const endOf = ({ fact, said }: Spoken, lastVersion: number): number | undefined => {
  if (said.type === 'used-up') return said.onWallMs;
  return said.type === 'was' && fact.version === lastVersion
    ? parseMaterial(said.material)?.goneOnWallMs
    : undefined;
};

/** The lot that a box had when something was said of it. */
function lotAt(spoken: readonly Spoken[], at: Spoken): string {
  const lots = spoken.slice(0, spoken.indexOf(at) + 1).map(({ said }) => writtenBy(said)['lot']);
  const last = lots.findLast((lot) => typeof lot === 'string');
  return typeof last === 'string' ? last : '';
}

function lotRecalls(spoken: readonly Spoken[], standing: readonly Spoken[]): readonly LotRecall[] {
  return standing.flatMap((each) => {
    const recalled = recallOf(each.said);
    if (recalled === undefined) return [];
    const { onWallMs, reason, lot = lotAt(spoken, each) } = recalled;
    return [{ fact: each.fact.id, lot, onWallMs, reason }];
  });
}

/** Every reason that stands, with the day of the first. */
export function recalledFrom(
  found: readonly { readonly onWallMs: number; readonly reason: string }[],
) {
  const [first] = found;
  if (first === undefined) return undefined;
  const reasons = [...new Set(found.map(({ reason }) => reason))].filter((why) => why !== '');
  return { onWallMs: first.onWallMs, reason: reasons.join('; ') };
}

/** The mark that a box shows of its own recalls; those of another lot name it. */
function ownMark(recalls: readonly LotRecall[], lot: unknown): Material['recalled'] {
  const recalled = recalledFrom(recalls);
  if (recalled === undefined) return undefined;
  const isOwn = recalls.some((recall) => typeof lot === 'string' && sameLot(recall.lot, lot));
  const [first] = recalls;
  return isOwn || first === undefined ? recalled : { ...recalled, lot: first.lot };
}

/**
 * The entry of one bottle; null when none of its facts can be read.
 * @param mayLift whether a lifting of a recall counts here; every one does when left out.
 */
export function stockEntry(
  facts: readonly Fact[],
  mayLift?: (fact: Fact) => boolean,
): StockEntry | null {
  const history = new FactHistory(facts);
  const spoken = history.inOrder.flatMap((fact): Spoken[] => {
    const said = parsedOr(saidSchema, fact.said);
    return said === null ? [] : [{ fact, said }];
  });
  const { fields, differing } = fieldsFrom(history, spoken);
  const marks = standing(spoken, {
    marks: ({ said }) => recallOf(said) !== undefined,
    ends: 'recall-lifted',
    ...(mayLift && { counts: mayLift }),
  });
  const recalls = lotRecalls(spoken, marks);
  const lastVersion = Math.max(-1, ...spoken.map(({ fact }) => fact.version ?? -1));
  const ends = standing(spoken, {
    marks: (each) => endOf(each, lastVersion) !== undefined,
    ends: 'back-on-shelf',
  });
  const recalled = ownMark(recalls, fields['lot']);
  const goneOnWallMs = ends[0] && endOf(ends[0], lastVersion);
  const material = parseMaterial({
    ...fields,
    id: facts[0]?.item,
    ...(recalled && { recalled }),
    ...(goneOnWallMs !== undefined && { goneOnWallMs }),
  });
  if (material === null) return null;
  return {
    material,
    recalls,
    differing,
    isStruck: spoken.some(({ said }) => said.type === 'struck'),
    events: spoken.map(({ fact: { id, by, tablet, atWallMs }, said }) => ({
      id,
      said,
      by,
      tablet,
      atWallMs,
    })),
    heads: history.heads,
    standing: { ends: ends.map(({ fact }) => fact.id) },
  };
}

/** What is said of a lot that is recalled and has no box here: a box that comes later is marked. */
export function lotSaid(o: {
  readonly lot: string;
  readonly onWallMs: number;
  readonly reason: string;
}): readonly MaterialSaid[] {
  const fields = { materialClass: '', label: '', lot: o.lot, refrigerated: false };
  return [
    { type: 'received', fields },
    { type: 'recalled', ...o },
    { type: 'struck', lotOnly: true },
  ];
}

/** What is said of a new bottle. */
export function receivedSaid(
  material: Material,
  o: { readonly isDemo: boolean },
): readonly MaterialSaid[] {
  const { id: _, openedOn, takenOutWallMs, recalled, goneOnWallMs, ...fields } = material;
  return [
    { type: 'received', fields, ...(o.isDemo && { demo: true }) },
    ...(openedOn === undefined ? [] : [{ type: 'opened', on: openedOn } as const]),
    ...(takenOutWallMs === undefined
      ? []
      : [{ type: 'taken-out', atWallMs: takenOutWallMs } as const]),
    ...(recalled === undefined ? [] : [{ type: 'recalled', ...recalled } as const]),
    ...(goneOnWallMs === undefined ? [] : [{ type: 'used-up', onWallMs: goneOnWallMs } as const]),
  ];
}

/** What is said when an entry is corrected: the fields that were changed, and no other. */
export function correctedSaid(o: {
  /** The entry as it was when it was opened to be corrected. */
  readonly before: Material;
  readonly after: Material;
  /** Fields on which two tablets differ: written again, they are settled. */
  readonly differing: readonly Differing[];
}): readonly MaterialSaid[] {
  const before: Fields = { ...o.before };
  const after: Fields = { ...o.after };
  const unsettled = new Set(o.differing.map(({ field }) => field));
  const changed = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (field) => unsettled.has(field) || !isSameJson(before[field], after[field]),
  );
  const fields = Object.fromEntries(
    changed.filter((field) => !HAPPENED.has(field)).map((field) => [field, after[field] ?? null]),
  );
  const isOpened = changed.includes('openedOn');
  const isOut = changed.includes('takenOutWallMs');
  return [
    ...(Object.keys(fields).length === 0 ? [] : [{ type: 'corrected', fields } as const]),
    ...(isOpened ? [{ type: 'opened', on: o.after.openedOn ?? null } as const] : []),
    ...(isOut ? [{ type: 'taken-out', atWallMs: o.after.takenOutWallMs ?? null } as const] : []),
  ];
}

/** What is said when somebody chooses among the values of one field; null takes the field away. */
export function settledSaid(o: { readonly field: string; readonly value: unknown }): MaterialSaid {
  const { field, value } = o;
  if (field === 'openedOn') return { type: 'opened', on: typeof value === 'string' ? value : null };
  if (field === 'takenOutWallMs') {
    return { type: 'taken-out', atWallMs: typeof value === 'number' ? value : null };
  }
  return { type: 'corrected', fields: { [field]: value } };
}

const readingSaidSchema = v.variant('type', [
  v.object({ type: v.literal('read'), reading: v.unknown() }),
  v.object({ type: v.literal('struck') }),
]);

export type ReadingSaid = v.InferOutput<typeof readingSaidSchema>;

/** The reading that these facts are about; null when it was struck, or cannot be read. */
export function readingFrom(facts: readonly Fact[]): LightReading | 'struck' | null {
  const said = new FactHistory(facts).inOrder.flatMap(
    (f) => parsedOr(readingSaidSchema, f.said) ?? [],
  );
  if (said.some(({ type }) => type === 'struck')) return 'struck';
  const last = said.findLast((each) => each.type === 'read');
  return last === undefined ? null : parseLightReading(last.reading);
}
