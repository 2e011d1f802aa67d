/**
 * A form holds its entry as it was when it was opened, and can stay open for hours. The numbers in it are
 * not its own: where it left them as it found them, those that stand in the protocol by then count.
 */

import { isRecord, isSameJson, type JsonFields } from '../../../base/json.ts';
import { isFigure } from '../../../protocol/walk-figures.ts';

interface Sides {
  /** What the form found. */
  readonly was: unknown;
  /** What stands in the protocol. */
  readonly now: unknown;
}

const whereOf = (entry: unknown): unknown => (isRecord(entry) ? entry['where'] : undefined);

/** Times of a step have no ids: they are known by when they hold, else by their place. */
function sidesOf(entry: unknown, index: number, { was, now }: Sides): Sides {
  const [before, after]: readonly unknown[][] = [was, now].map((list) =>
    Array.isArray(list) ? list : [],
  );
  const isSameOne = (other: unknown): boolean =>
    isRecord(entry) && 'where' in entry && isSameJson(whereOf(other), entry['where']);
  return {
    was: before?.find(isSameOne) ?? before?.[index],
    now: after?.find(isSameOne) ?? after?.[index],
  };
}

function freshFields(form: JsonFields, was: JsonFields, now: JsonFields): JsonFields {
  // Another kind of action has numbers of its own under the same keys.
  if (form['kind'] !== was['kind'] || form['kind'] !== now['kind']) return form;
  const came = Object.keys(now).filter((key) => !(key in form) && !(key in was));
  const fields = Object.entries(form).flatMap(([key, value]): (readonly [string, unknown])[] => {
    const isGone = !(key in now) && isFigure(value) && isSameJson(value, was[key]);
    return isGone ? [] : [[key, fresh(value, { was: was[key], now: now[key] })]];
  });
  return Object.fromEntries([
    ...fields,
    ...came.filter((key) => isFigure(now[key])).map((key) => [key, now[key]] as const),
  ]);
}

/** What a field of the form says, with the numbers that stand there now. */
export function fresh(form: unknown, { was, now }: Sides): unknown {
  if (isFigure(form)) return isSameJson(form, was) && isFigure(now) ? now : form;
  if (Array.isArray(form)) {
    return form.map((entry, i) => fresh(entry, sidesOf(entry, i, { was, now })));
  }
  return isRecord(form) && isRecord(was) && isRecord(now) ? freshFields(form, was, now) : form;
}
