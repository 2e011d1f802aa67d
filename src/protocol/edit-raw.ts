/**
 * Edits on plain JSON. Nothing here knows whether the outcome is still a protocol: `edit.ts` asks
 * the parser. Whatever comes in stays as it is; what comes out shares what did not change.
 */
import { unreachable } from '../base/assert.ts';
import { removeReferences } from './edit-references.ts';
import type { Edit, Part, Spot } from './edit-types.ts';
import { asCopy, withoutUnread } from './edit-unread.ts';

export type Raw = Readonly<Record<string, unknown>>;

function isRaw(value: unknown): value is Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The entries of a list that are objects. */
function entriesOf(raw: Raw, part: Part): readonly Raw[] {
  const list = raw[part];
  return Array.isArray(list) ? list.filter(isRaw) : [];
}

/** A copy with `value` at a dotted key; undefined takes the field, and emptied `words`, away. */
function setKey(item: Raw, key: readonly string[], value: unknown): Raw {
  const [name = '', ...rest] = key;
  if (rest.length > 0) {
    const inner = Object.hasOwn(item, name) ? item[name] : undefined;
    if (Array.isArray(inner)) return withField(item, name, setInList(inner, rest, value));
    const changed = setKey(isRaw(inner) ? inner : {}, rest, value);
    return withField(item, name, Object.keys(changed).length === 0 ? undefined : changed);
  }
  return withField(item, name, value);
}

/** A list with one of its entries changed; an entry that is not there stays away. */
function setInList(list: readonly unknown[], key: readonly string[], value: unknown) {
  const [index = '', ...rest] = key;
  return list.map((entry, i) => {
    if (String(i) !== index || rest.length === 0) return entry;
    return isRaw(entry) ? setKey(entry, rest, value) : entry;
  });
}

function withField(item: Raw, name: string, value: unknown): Raw {
  const entries = Object.entries(item);
  if (value === undefined) return Object.fromEntries(entries.filter(([key]) => key !== name));
  const isThere = entries.some(([key]) => key === name);
  // Entries, because assigning to `__proto__` would not make a key.
  if (!isThere) return Object.fromEntries([...entries, [name, value]]);
  return Object.fromEntries(entries.map(([key, old]) => [key, key === name ? value : old]));
}

/** A copy with `value` at the spot; as it was when there is no such entry. */
function setSpot(raw: Raw, spot: Spot, value: unknown): Raw {
  const key = spot.key.split('.');
  if (spot.part === 'protocol') return setKey(raw, key, value);
  const list = entriesOf(raw, spot.part);
  const at = list.findIndex((item) => item['id'] === spot.id);
  if (at < 0) return raw;
  return {
    ...raw,
    [spot.part]: list.map((item, i) => (i === at ? setKey(item, key, value) : item)),
  };
}

function insert(list: readonly Raw[], item: Raw, before: string | null): readonly Raw[] {
  const at = before === null ? -1 : list.findIndex((other) => other['id'] === before);
  return at < 0 ? [...list, item] : [...list.slice(0, at), item, ...list.slice(at)];
}

function move(raw: Raw, o: { readonly part: Part; readonly id: string; before: string | null }) {
  const list = entriesOf(raw, o.part);
  const item = list.find((other) => other['id'] === o.id);
  if (item === undefined || o.before === o.id) return raw;
  const others = list.filter((other) => other !== item);
  return { ...raw, [o.part]: insert(others, item, o.before) };
}

/** A later step that says the original is done, or confirms its light, does not wait for the copy. */
function withOwnPress(step: Raw): Raw {
  const { pressed } = step;
  if (!isRaw(pressed)) return step;
  if (pressed['kind'] === 'implied') return withField(step, 'pressed', undefined);
  return withField(step, 'pressed', withField(pressed, 'confirmedBy', undefined));
}

/** The copy waits for the original on the same subject and stands right behind it. */
function duplicateStep(raw: Raw, o: { readonly step: string; readonly newId: string }): Raw {
  const steps = entriesOf(raw, 'steps');
  const at = steps.findIndex((step) => step['id'] === o.step);
  const original = steps[at];
  if (original === undefined) return raw;
  const copy: Raw = {
    ...asCopy(withField(withOwnPress(original), 'beginsWith', undefined)),
    id: o.newId,
    title: `${String(original['title'])} 2`,
    after: [{ step: o.step, link: 'same' }],
  };
  return { ...raw, steps: [...steps.slice(0, at + 1), copy, ...steps.slice(at + 1)] };
}

/** What is left of a part. Lists are left out of a document that has none. */
function without(list: readonly Raw[], o: { readonly part: Part; readonly id: string }) {
  const left = list.filter((item) => item['id'] !== o.id);
  return o.part === 'lists' && left.length === 0 ? undefined : left;
}

/** A number that is given whole says itself where it was read. */
const isWholeFigure = (value: unknown): boolean =>
  isRaw(value) && 'value' in value && 'basis' in value;

/** Edits that give no basis with what they change, so that a number may lose its own. */
function mayCarry(edit: Edit): boolean {
  switch (edit.do) {
    case 'set-text':
    case 'replace':
    case 'clear':
      return true;
    case 'set-field':
      return !isWholeFigure(edit.value);
    case 'remove':
      return edit.part === 'slots';
    default:
      return false;
  }
}

/**
 * Does one edit. An edit that points at nothing changes nothing; a number that changes as a part of
 * something larger, or is for something else from now on, loses its confirmation.
 */
export function editRaw(raw: Raw, edit: Edit): Raw {
  const next = doneTo(raw, edit);
  return mayCarry(edit) ? withoutUnread(raw, next) : next;
}

function doneTo(raw: Raw, edit: Edit): Raw {
  switch (edit.do) {
    case 'set-figure':
      return setSpot(raw, edit.spot, edit.figure);
    case 'set-basis':
      return edit.spots.reduce(
        (doc, { part, id, key }) => setSpot(doc, { part, id, key: `${key}.basis` }, edit.basis),
        raw,
      );
    case 'set-text':
      return setSpot(raw, edit.spot, edit.text.trim() === '' ? undefined : edit.text);
    case 'set-field':
      return setSpot(raw, edit.spot, edit.value);
    case 'clear':
      return setSpot(raw, edit.spot, undefined);
    case 'add':
      return {
        ...raw,
        [edit.part]: insert(entriesOf(raw, edit.part), { ...edit.item }, edit.before),
      };
    case 'duplicate-step':
      return duplicateStep(raw, edit);
    case 'remove':
      return removeReferences(withField(raw, edit.part, without(entriesOf(raw, edit.part), edit)), {
        before: raw,
        part: edit.part,
        id: edit.id,
      });
    case 'move':
      return move(raw, edit);
    case 'replace':
      return { ...edit.protocol };
    default:
      return unreachable(edit);
  }
}
