/**
 * A number that changes while the document behind it stays was not read there: it loses what vouched
 * for it, and what that was is kept as a note to look at. So does one whose materials, condition, step
 * or moments become others: nobody read it for those. Only an edit that gives a number with its own
 * basis (`set-figure`, `set-basis`, a new entry) says where the new number was read.
 */

import { isRecord, isSameJson, type JsonFields } from '../base/json.ts';
import { entryText } from './duration-entry.ts';
import { isFigure } from './walk-figures.ts';

const NOTE_LENGTH_MAX = 900;
/** What says that somebody has read this number. */
const VOUCHES = [
  'document',
  'revision',
  'page',
  'asWritten',
  'confirmedBy',
  'confirmedOn',
] as const;
const LISTS = ['steps', 'windows'] as const;

/** A confirmation as a line of words: document, revision, page; who, when. */
function confirmationLine(basis: JsonFields): string {
  const { document, revision, page, confirmedBy, confirmedOn } = basis;
  const where = page === undefined ? '' : `, page ${String(page)}`;
  return `${String(document)}, ${String(revision)}${where}; ${String(confirmedBy)}, ${String(confirmedOn)}`;
}

/** What was vouched for elsewhere or for another number: common practice, with a note. */
export function asNote(said: string, basis: JsonFields): JsonFields {
  const note = `${said}: ${confirmationLine(basis)}`;
  return { kind: 'practice', note: note.slice(0, NOTE_LENGTH_MAX) };
}

const shown = (key: string, value: unknown): string =>
  key.endsWith('Ms') && typeof value === 'number' ? entryText(value) : String(value);

interface Place {
  /** The key that holds the number. */
  readonly key: string;
  /** What it was confirmed for, where that has become another; null where it stayed. */
  readonly other: string | null;
}

const OTHER = {
  materials: 'was confirmed for other materials',
  moments: 'was confirmed between other moments',
  where: 'was confirmed under another condition',
  step: 'was confirmed for the step that this is a copy of',
} as const;

/** Whether the clinic had confirmed this number, and for something else than it is for now. */
export const wasForOther = (basis: JsonFields): boolean =>
  Object.values(OTHER).some((said) => String(basis['note']).startsWith(`${said}: `));

function unreadFigure(was: JsonFields, is: JsonFields, { key, other }: Place): JsonFields {
  const [old, basis] = [was['basis'], is['basis']];
  const said =
    was['value'] === is['value'] ? other : `was confirmed as ${shown(key, was['value'])}`;
  if (said === null || !isRecord(old) || !isRecord(basis)) return is;
  if (basis['kind'] !== 'instructions' || old['kind'] !== 'instructions') return is;
  if (VOUCHES.some((name) => old[name] !== basis[name])) return is;
  return { ...is, basis: asNote(said, old) };
}

/** Variants of a time have no ids: one that stayed is known by what it holds, else by its place. */
function unreadList(was: readonly unknown[], is: readonly unknown[], at: Place): unknown {
  const whereOf = (entry: unknown): unknown => (isRecord(entry) ? entry['where'] : undefined);
  return is.map((entry, i) => {
    const same = was.find((old) => isSameJson(old, entry));
    if (same !== undefined) return unread(same, entry, at);
    const isSameOne = (old: unknown): boolean =>
      isRecord(old) && isRecord(entry) && isSameJson(old['where'], entry['where']);
    const old = was.find(isSameOne) ?? was[i];
    const isElsewhere = !isSameJson(whereOf(old), whereOf(entry));
    return unread(old, entry, isElsewhere ? { ...at, other: at.other ?? OTHER.where } : at);
  });
}

function unread(was: unknown, is: unknown, at: Place): unknown {
  if (was === is && at.other === null) return is;
  if (Array.isArray(was) && Array.isArray(is)) return unreadList(was, is, at);
  if (!isRecord(was) || !isRecord(is)) return is;
  if (isFigure(is)) return isFigure(was) ? unreadFigure(was, is, at) : is;
  return Object.fromEntries(
    Object.entries(is).map(([key, value]) => [key, unread(was[key], value, { ...at, key })]),
  );
}

/** Fields whose numbers bind; the rhythm of the hands is of no material. */
const BINDING = ['action', 'pressed', 'minMs', 'targetMs', 'maxMs'];

function unreadItem(was: JsonFields, is: JsonFields, other: string | null): JsonFields {
  return Object.fromEntries(
    Object.entries(is).map(([key, value]) => {
      const at = { key, other: BINDING.includes(key) ? other : null };
      return [key, unread(was[key], value, at)];
    }),
  );
}

/** The copy of a step: its numbers were read for the other one. */
export const asCopy = (step: JsonFields): JsonFields => unreadItem(step, step, OTHER.step);

type ById = ReadonlyMap<unknown, JsonFields>;
type Lists = Readonly<Record<'steps' | 'windows' | 'slots', ById>>;

function listsOf(document: JsonFields): Lists {
  const byId = (name: string): ById => {
    const list = document[name];
    const items: readonly unknown[] = Array.isArray(list) ? list : [];
    return new Map(items.filter(isRecord).map((item) => [item['id'], item]));
  };
  return { steps: byId('steps'), windows: byId('windows'), slots: byId('slots') };
}

const usesOf = (step: JsonFields | undefined): readonly unknown[] => {
  const uses = step?.['uses'];
  return Array.isArray(uses) ? uses : [];
};

const stepAt = (moment: unknown, { steps }: Lists): JsonFields | undefined =>
  isRecord(moment) ? steps.get(moment['step']) : undefined;

/** What a number is read for: the slots of its step with their classes; for a window, those of what opens it. */
function materialsOf(item: JsonFields, lists: Lists): readonly string[] {
  const steps = [item, stepAt(item['from'], lists), stepAt(item['to'], lists)];
  const uses = steps.map(usesOf).find((ids) => ids.length > 0) ?? [];
  return uses
    .map((id) => `${String(id)}: ${String(lists.slots.get(id)?.['materialClass'])}`)
    .toSorted();
}

const MOMENTS = ['from', 'to', 'match'];

function otherOf(
  was: { readonly item: JsonFields; readonly lists: Lists },
  is: { readonly item: JsonFields; readonly lists: Lists },
): string | null {
  if (MOMENTS.some((key) => !isSameJson(was.item[key], is.item[key]))) return OTHER.moments;
  const materials = [was, is].map(({ item, lists }) => materialsOf(item, lists));
  return isSameJson(materials[0], materials[1]) ? null : OTHER.materials;
}

/** The document after an edit, without the confirmations that nobody gave to its new numbers. */
export function withoutUnread(before: JsonFields, after: JsonFields): JsonFields {
  const isSame = ['steps', 'windows', 'slots'].every((name) => before[name] === after[name]);
  if (isSame) return after;
  const [was, is] = [listsOf(before), listsOf(after)];
  const lists = LISTS.flatMap((name): readonly (readonly [string, unknown])[] => {
    const list = after[name];
    if (!Array.isArray(list)) return [];
    const unreadOf = (item: unknown): unknown => {
      const old = isRecord(item) ? was[name].get(item['id']) : undefined;
      if (!isRecord(item) || old === undefined) return item;
      const other = otherOf({ item: old, lists: was }, { item, lists: is });
      return old === item && other === null ? item : unreadItem(old, item, other);
    };
    return [[name, list.map(unreadOf)]];
  });
  return { ...after, ...Object.fromEntries(lists) };
}
