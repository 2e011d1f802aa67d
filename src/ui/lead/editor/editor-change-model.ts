/** Differences between two protocols as rows to read: what, before, after. */

import { unreachable } from '../../../base/assert.ts';
import { type Change, changeId } from '../../../protocol/diff.ts';
import type { Part, PartItem } from '../../../protocol/edit-types.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { isFigure } from '../../../protocol/walk-figures.ts';
import { numberWithBasis } from '../../../words/basis-words.ts';
import { changeWords, fieldWords } from '../../../words/change-words.ts';
import { isFigureKey } from '../../../words/figure-words.ts';
import { protocolWords, windowAsks } from '../../../words/protocol-words.ts';
import { windowEnds } from '../../shared/protocol-model.ts';
import { shortWords, sourceShort } from './editor-around-model.ts';
import { stepPieces } from './editor-change-step.ts';
import { fieldText, wayBackDifference, wayBackPieces } from './editor-change-value.ts';
import { shownValue } from './editor-model.ts';

export interface ChangeRow {
  readonly id: string;
  /** "Etch: target" */
  readonly what: string;
  readonly before: string;
  readonly after: string;
  /** The whole change in one line: "Etch: target 20 s → 15 s". */
  readonly line: string;
  /** Of a list: what was added to it and taken away from it. */
  readonly difference?: string;
}

export interface Compared {
  readonly before: Protocol;
  readonly after: Protocol;
  /** Why entries were taken out, by `part/id`. */
  readonly reasons?: ReadonlyMap<string, string>;
}

type TitleOf = (id: string) => string;

function plainWords(value: unknown, titleOf: TitleOf): string {
  if (value === undefined) return changeWords.none;
  if (typeof value === 'string') return titleOf(value);
  if (typeof value === 'boolean') return value ? changeWords.yes : changeWords.no;
  if (typeof value === 'number') return String(value);
  if (Array.isArray(value)) {
    if (value.length === 0) return changeWords.none;
    return changeWords.list(value.map((item) => plainWords(item, titleOf)));
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
    return numberWithBasis(shown, value.basis, protocol.sources);
  }
  return plainWords(value, (id) => titles.get(id) ?? id);
}

/** "Etch", "Stage Etch", "Caution “Etching gel burns …”": steps and windows go by their titles. */
function ownerName({ part, id, title }: Change, o: Compared): string {
  if (part === 'protocol' || part === 'steps' || part === 'windows') return title;
  const source = [...o.before.sources, ...o.after.sources].find((item) => item.id === id);
  if (part === 'sources' && source) return changeWords.entry[part](sourceShort(source));
  return changeWords.entry[part](part === 'cautions' ? shortWords(title) : title);
}

/** All that an added or removed entry says, where its title says too little. */
function entryText({ part, title }: Change, item: PartItem, protocol: Protocol): string {
  if ('materialClass' in item) {
    return changeWords.field({ owner: title, field: item.materialClass });
  }
  if ('match' in item) {
    const ends = windowEnds(protocol, item);
    const field = protocolWords.windowEndsAsks({ ...ends, asks: windowAsks(item) });
    return changeWords.field({ owner: title, field });
  }
  if ('citation' in item) {
    const { citation, doi } = item;
    return doi === undefined ? citation : changeWords.citation({ citation, doi });
  }
  if ('proposal' in item) return changeWords.clauses(wayBackPieces(protocol, item));
  if ('action' in item) return changeWords.clauses(stepPieces(protocol, item));
  return part === 'cautions' ? changeWords.quoted(title) : title;
}

function changedRow(change: Extract<Change, { kind: 'changed' }>, o: Compared): ChangeRow {
  const { key, part, id } = change;
  const title = ownerName(change, o);
  const isOnlyBasis =
    isFigure(change.before) && isFigure(change.after) && change.before.value === change.after.value;
  const field = fieldWords(part, key);
  const what = title === '' ? field : changeWords.field({ owner: title, field });
  const words = (value: unknown, protocol: Protocol, withBasis: boolean) =>
    (isFigure(value)
      ? null
      : fieldText(protocol, { part, id, key }, protocol === o.before ? o.after : o.before)) ??
    valueWords({ value, key, protocol, withBasis });
  const sides = {
    id: changeId(change),
    what,
    before: words(change.before, o.before, true),
    after: words(change.after, o.after, true),
  };
  const gained = part === 'waysBack' ? wayBackDifference(id, key, o) : null;
  if (gained !== null) return { ...sides, ...listRow(what, gained) };
  // Another id under the same title, another note of a basis: there is a difference to be told.
  if (sides.before === sides.after) {
    const line = changeWords.field({ owner: what, field: changeWords.sameInWords });
    return { ...sides, line, difference: changeWords.sameInWords };
  }
  const line = isOnlyBasis
    ? changeWords.basisOnly({ what, value: words(change.after, o.after, true) })
    : changeWords.fromTo({
        what,
        before: words(change.before, o.before, false),
        after: words(change.after, o.after, false),
      });
  return { ...sides, line };
}

/** What a list gained and lost, where reading both to the end would be asked of the eye. */
function listRow(
  what: string,
  { added, takenAway }: NonNullable<ReturnType<typeof wayBackDifference>>,
): Pick<ChangeRow, 'line' | 'difference'> {
  const pieces = [
    ...(added.length === 0 ? [] : [changeWords.listAdded(added)]),
    ...(takenAway.length === 0 ? [] : [changeWords.listTakenAway(takenAway)]),
  ];
  const difference = pieces.length === 0 ? changeWords.listOrder : changeWords.clauses(pieces);
  return { line: changeWords.field({ owner: what, field: difference }), difference };
}

/** A way back or a step that came or went is told with all that it says. */
function wholeLine(item: PartItem, line: string, protocol: Protocol): string {
  const pieces =
    'proposal' in item
      ? wayBackPieces(protocol, item)
      : 'action' in item
        ? stepPieces(protocol, item)
        : null;
  if (pieces === null) return line;
  return changeWords.field({ owner: line, field: changeWords.clauses(pieces) });
}

/** A change as a row; `before` and `after` are the documents that were compared. */
export function changeRow(change: Change, o: Compared): ChangeRow {
  if (change.kind === 'changed') return changedRow(change, o);
  const part: Part = change.part;
  const side = change.kind === 'removed' ? o.before : o.after;
  const text = change.kind === 'moved' ? change.title : entryText(change, change.item, side);
  const what = changeWords.entry[part](part === 'sources' ? text : change.title);
  const reason = o.reasons?.get(`${part}/${change.id}`);
  const row = { id: changeId(change), what };
  switch (change.kind) {
    case 'added':
      return {
        ...row,
        before: changeWords.none,
        after: text,
        line: wholeLine(change.item, changeWords.added(what), side),
      };
    case 'removed':
      return {
        ...row,
        before: text,
        after: reason === undefined ? changeWords.none : changeWords.noneBecause(reason),
        line: wholeLine(
          change.item,
          reason === undefined
            ? changeWords.removed(what)
            : changeWords.removedBecause({ what, reason }),
          side,
        ),
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
