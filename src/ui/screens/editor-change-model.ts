/** Differences between two protocols as rows to read: what, before, after. */
import { unreachable } from '../../base/assert.ts';
import { type Change, changeId } from '../../protocol/diff.ts';
import type { Part } from '../../protocol/edit-types.ts';
import type { Figure, Protocol } from '../../protocol/types.ts';
import { basisWords } from '../words/basis-words.ts';
import { changeWords, FIELD_WORDS, PART_WORDS } from '../words/change-words.ts';
import { figureLabel, isFigureKey, shownValue } from './editor-model.ts';

export interface ChangeRow {
  readonly id: string;
  /** "Etch: target" */
  readonly what: string;
  readonly before: string;
  readonly after: string;
  /** The whole change in one line: "Etch: target 20 s → 15 s". */
  readonly line: string;
}

function isFigure(value: unknown): value is Figure {
  return typeof value === 'object' && value !== null && 'value' in value && 'basis' in value;
}

type TitleOf = (id: string) => string;

function plainWords(value: unknown, titleOf: TitleOf): string {
  if (value === undefined) return changeWords.none;
  if (typeof value === 'string') return titleOf(value);
  if (typeof value === 'boolean') return value ? changeWords.yes : changeWords.no;
  if (typeof value === 'number') return String(value);
  if (Array.isArray(value)) {
    if (value.length === 0) return changeWords.none;
    return value.map((item) => plainWords(item, titleOf)).join(', ');
  }
  if (typeof value !== 'object' || value === null) return changeWords.none;
  const shown = Object.values(value).map((inner) => plainWords(inner, titleOf));
  return shown.join(' ');
}

function valueWords(o: {
  readonly value: unknown;
  readonly key: string;
  readonly protocol: Protocol;
  readonly withBasis: boolean;
}): string {
  const { value, key, protocol } = o;
  const titles = new Map(
    [...protocol.steps, ...protocol.windows, ...protocol.stages].map((i) => [i.id, i.title]),
  );
  if (isFigure(value)) {
    const shown = isFigureKey(key) ? shownValue(key, value.value) : String(value.value);
    if (!o.withBasis) return shown;
    const { kind, line } = basisWords(value.basis, protocol.sources);
    return `${shown} (${kind}: ${line})`;
  }
  return plainWords(value, (id) => titles.get(id) ?? id);
}

function fieldWords(key: string): string {
  return isFigureKey(key) ? figureLabel(key) : (FIELD_WORDS[key] ?? key);
}

function changedRow(
  change: Extract<Change, { kind: 'changed' }>,
  o: { readonly before: Protocol; readonly after: Protocol },
): ChangeRow {
  const { key, title } = change;
  const isOnlyBasis =
    isFigure(change.before) && isFigure(change.after) && change.before.value === change.after.value;
  const field = fieldWords(key);
  const what = title === '' ? field : `${title}: ${field}`;
  const words = (value: unknown, protocol: Protocol, withBasis: boolean) =>
    valueWords({ value, key, protocol, withBasis });
  const line = isOnlyBasis
    ? changeWords.basisOnly({ what, value: words(change.after, o.after, true) })
    : changeWords.fromTo({
        what,
        before: words(change.before, o.before, false),
        after: words(change.after, o.after, false),
      });
  return {
    id: changeId(change),
    what,
    before: words(change.before, o.before, true),
    after: words(change.after, o.after, true),
    line,
  };
}

/** A change as a row; `before` and `after` are the documents that were compared. */
export function changeRow(
  change: Change,
  o: { readonly before: Protocol; readonly after: Protocol },
): ChangeRow {
  if (change.kind === 'changed') return changedRow(change, o);
  const part: Part = change.part;
  const what = `${PART_WORDS[part]} ${change.title}`;
  const row = { id: changeId(change), what };
  switch (change.kind) {
    case 'added':
      return {
        ...row,
        before: changeWords.none,
        after: change.title,
        line: changeWords.added(what),
      };
    case 'removed':
      return {
        ...row,
        before: change.title,
        after: changeWords.none,
        line: changeWords.removed(what),
      };
    case 'moved': {
      const places = { from: change.from + 1, to: change.to + 1 };
      return {
        ...row,
        before: changeWords.place(places.from),
        after: changeWords.place(places.to),
        line: changeWords.moved({ what, ...places }),
      };
    }
    default:
      return unreachable(change);
  }
}
