/**
 * What has to go, or to be joined anew, when an entry of a protocol is removed: steps that waited
 * for it wait for what it waited for; windows and conditions that need it go with it.
 */
import type { Part } from './edit-types.ts';

type Raw = Readonly<Record<string, unknown>>;

function isRaw(value: unknown): value is Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

function without(item: Raw, key: string): Raw {
  return Object.fromEntries(Object.entries(item).filter(([name]) => name !== key));
}

/** A list in a field, filtered; an optional list that becomes empty is taken away. */
function filtered(
  item: Raw,
  key: string,
  o: { readonly keep: (entry: unknown) => boolean; readonly optional: boolean },
): Raw {
  if (!Array.isArray(item[key])) return item;
  const kept = item[key].filter(o.keep);
  if (kept.length === item[key].length) return item;
  return kept.length === 0 && o.optional ? without(item, key) : { ...item, [key]: kept };
}

const names = (key: string, id: string) => (entry: unknown) => isRaw(entry) && entry[key] === id;
const not = (test: (entry: unknown) => boolean) => (entry: unknown) => !test(entry);

/** Waiting for the removed step becomes waiting for what it waited for itself. */
function bridged(waiter: Raw, removed: Raw, steps: readonly Raw[]): Raw {
  const after = listOf(waiter['after']);
  const through = after.find(names('step', String(removed['id'])));
  if (!isRaw(through)) return waiter;
  const scopeOf = (id: unknown) => steps.find((step) => step['id'] === id)?.['per'];
  const kept = after.filter((entry) => !names('step', String(removed['id']))(entry));
  const known = new Set(kept.filter(isRaw).map((entry) => entry['step']));
  const joined = listOf(removed['after'])
    .filter(isRaw)
    .filter((entry) => !known.has(entry['step']) && entry['step'] !== waiter['id'])
    .map((entry) => {
      const isBarrier = through['link'] === 'all' || entry['link'] === 'all';
      const isSame = scopeOf(entry['step']) === waiter['per'];
      const link = isBarrier ? 'all' : isSame ? 'same' : 'linked';
      return { step: entry['step'], link };
    });
  return { ...waiter, after: [...kept, ...joined] };
}

/** What the removed step said, or confirmed, is pressed for itself again. */
function pressedWithout(step: Raw, id: string): Raw {
  const { pressed } = step;
  if (!isRaw(pressed)) return step;
  const by = filtered(pressed, 'by', { keep: (other) => other !== id, optional: true });
  if (pressed['kind'] === 'implied' && by['by'] === undefined) return without(step, 'pressed');
  if (by !== pressed) return { ...step, pressed: by };
  return pressed['confirmedBy'] === id
    ? { ...step, pressed: without(pressed, 'confirmedBy') }
    : step;
}

/** The lines of a list that is gone are pressed one by one. */
function withoutList(step: Raw, id: string): Raw {
  const { pressed } = step;
  return isRaw(pressed) && pressed['list'] === id ? without(step, 'pressed') : step;
}

function stepWithoutStep(step: Raw, removed: Raw, steps: readonly Raw[]): Raw {
  const id = String(removed['id']);
  let next = pressedWithout(bridged(step, removed, steps), id);
  for (const key of ['roundOf', 'beginsWith']) if (next[key] === id) next = without(next, key);
  next = filtered(next, 'onlyIf', { keep: not(names('step', id)), optional: true });
  next = filtered(next, 'onlyIf', { keep: not(names('voided', id)), optional: true });
  const { action } = next;
  if (isRaw(action) && isRaw(action['evidence']) && action['evidence']['equals'] === id) {
    return { ...next, action: { ...action, evidence: without(action['evidence'], 'equals') } };
  }
  if (!isRaw(action) || action['kind'] !== 'choose') return next;
  const options = listOf(action['options']).map((option) =>
    isRaw(option) ? filtered(option, 'redo', { keep: (r) => r !== id, optional: true }) : option,
  );
  return { ...next, action: { ...action, options } };
}

function withoutStep(raw: Raw, o: { readonly before: Raw; readonly id: string }): Raw {
  const steps = listOf(o.before['steps']).filter(isRaw);
  const removed = steps.find((step) => step['id'] === o.id);
  if (removed === undefined) return raw;
  const touches = (window: unknown) =>
    isRaw(window) && [window['from'], window['to']].some(names('step', o.id));
  return {
    ...raw,
    steps: listOf(raw['steps']).map((s) => (isRaw(s) ? stepWithoutStep(s, removed, steps) : s)),
    windows: listOf(raw['windows']).filter(not(touches)),
    waysBack: listOf(raw['waysBack']).map((way) => {
      if (!isRaw(way)) return way;
      const isKept = (entry: unknown) =>
        !names('step', o.id)(entry) && !names('onlyAfter', o.id)(entry);
      let next = filtered(way, 'voids', { keep: isKept, optional: false });
      for (const key of ['from', 'until'])
        if (names('step', o.id)(next[key])) next = without(next, key);
      return next;
    }),
  };
}

function eachStep(raw: Raw, change: (step: Raw) => Raw): Raw {
  return { ...raw, steps: listOf(raw['steps']).map((s) => (isRaw(s) ? change(s) : s)) };
}

/** A material asked for as evidence cannot be asked for once its slot is gone. */
function withoutSlot(step: Raw, id: string): Raw {
  const next = filtered(step, 'uses', { keep: (slot) => slot !== id, optional: true });
  const { action } = next;
  const isAsked = isRaw(action) && isRaw(action['evidence']) && action['evidence']['slot'] === id;
  return isAsked ? { ...next, action: without(action, 'evidence') } : next;
}

function withoutWayBack(raw: Raw, id: string): Raw {
  const changed = eachStep(raw, (step) =>
    filtered(step, 'onlyIf', { keep: not(names('wayBack', id)), optional: true }),
  );
  const windows = listOf(changed['windows']).map((window) =>
    isRaw(window) && window['wayBack'] === id ? without(window, 'wayBack') : window,
  );
  return { ...changed, windows };
}

function withoutCaution(raw: Raw, id: string): Raw {
  const silent = (entry: Raw): Raw =>
    filtered(entry, 'cautions', { keep: (other) => other !== id, optional: true });
  const changed = eachStep(raw, silent);
  const waysBack = listOf(changed['waysBack']).map((way) => (isRaw(way) ? silent(way) : way));
  return { ...changed, waysBack };
}

/** The document after `id` was taken out of `part`, without anything that still names it. */
export function removeReferences(
  raw: Raw,
  o: { readonly before: Raw; readonly part: Part; readonly id: string },
): Raw {
  switch (o.part) {
    case 'steps':
      return withoutStep(raw, o);
    case 'slots':
      return eachStep(raw, (step) => withoutSlot(step, o.id));
    case 'cautions':
      return withoutCaution(raw, o.id);
    case 'waysBack':
      return withoutWayBack(raw, o.id);
    case 'lists':
      return eachStep(raw, (step) => withoutList(step, o.id));
    case 'windows':
    case 'sources':
    case 'stages':
      // What still names a source or a stage is told by the checks: only a person can decide.
      return raw;
  }
}
