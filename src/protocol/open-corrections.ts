/**
 * What the shipped template corrects in a revision that a clinic has confirmed: the differences that
 * a correction was told for, what could hurt first, and then the others. Nothing is changed here.
 */

import type { Correction } from './corrections.ts';
import { type Change, changeId, diffProtocols } from './diff.ts';
import { wasForOther } from './edit-unread.ts';
import type { Basis, Protocol } from './types.ts';
import { isFigure } from './walk-figures.ts';

/** A difference with the rows that were told for it. */
export interface TemplateCorrection {
  /** As `changeId` names it. */
  readonly id: string;
  readonly change: Change;
  /** At least one. */
  readonly rows: readonly Correction[];
  readonly hurts: boolean;
  /** The clinic confirmed what stands there against the instructions of a product, which govern. */
  readonly isTyped: boolean;
}

/** Differences of one entry for which nothing was told. */
export interface OtherChanges {
  /** `part/id` of the entry. */
  readonly owner: string;
  readonly changes: readonly Change[];
}

export interface Compared {
  /** What could hurt first; otherwise in the order of the template. */
  readonly corrections: readonly TemplateCorrection[];
  readonly others: readonly OtherChanges[];
}

type Fields = Readonly<Record<string, unknown>>;

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** It has, or had until what the number is for changed: then it is asked for as unconfirmed anyway. */
const hadInstructions = (basis: Basis): boolean =>
  basis.kind === 'instructions' || wasForOther({ ...basis });

/**
 * Whether nothing but the standing of numbers differs: the same number, which the clinic has behind
 * it the instructions of its product for. The template has none to give, so that corrects nothing.
 */
function isSameToClinic(here: unknown, template: unknown): boolean {
  if (here === template) return true;
  if (Array.isArray(here) && Array.isArray(template)) {
    return here.length === template.length && here.every((h, i) => isSameToClinic(h, template[i]));
  }
  if (!isFields(here) || !isFields(template)) return false;
  if (isFigure(here) && isFigure(template) && hadInstructions(here.basis)) {
    return here.value === template.value;
  }
  const keys = new Set([...Object.keys(here), ...Object.keys(template)]);
  return [...keys].every(
    (key) =>
      Object.hasOwn(here, key) &&
      Object.hasOwn(template, key) &&
      isSameToClinic(here[key], template[key]),
  );
}

function holdsInstructions(value: unknown): boolean {
  if (Array.isArray(value)) return value.some(holdsInstructions);
  if (!isFields(value)) return false;
  return value['kind'] === 'instructions' || Object.values(value).some(holdsInstructions);
}

function isTyped(change: Change): boolean {
  if (change.kind === 'changed') return holdsInstructions(change.before);
  return change.kind === 'removed' && holdsInstructions(change.item);
}

/** A row belongs to a change at its place, above it or below it; all rows of a new entry to that. */
function isAbout({ place }: Correction, change: Change): boolean {
  const id = changeId(change);
  if (place === id) return true;
  const owner = `${change.part}/${change.id}/`;
  if (!place.startsWith(owner)) return false;
  if (change.kind !== 'changed') return change.kind === 'added';
  const key = place.slice(owner.length);
  return key.startsWith(`${change.key}.`) || change.key.startsWith(`${key}.`);
}

/** The differences that count: not the number of a revision, not the standing of the same number. */
export function realChanges(inForce: Protocol, template: Protocol): readonly Change[] {
  return diffProtocols(inForce, template).filter(
    (change) => change.kind !== 'changed' || !isSameToClinic(change.before, change.after),
  );
}

/** Compares what is in force with what ships under the same id; `rows` are those of every protocol. */
export function openCorrections(o: {
  readonly inForce: Protocol;
  readonly template: Protocol;
  readonly rows: readonly Correction[];
}): Compared {
  const { inForce, template } = o;
  const own = o.rows.filter(({ protocol }) => protocol === template.id);
  const corrections: TemplateCorrection[] = [];
  const others = new Map<string, Change[]>();
  for (const change of realChanges(inForce, template)) {
    const rows = own.filter((row) => isAbout(row, change));
    if (rows.length > 0) {
      const hurts = rows.some((row) => row.hurts);
      corrections.push({ id: changeId(change), change, rows, hurts, isTyped: isTyped(change) });
      continue;
    }
    const owner = `${change.part}/${change.id}`;
    others.set(owner, [...(others.get(owner) ?? []), change]);
  }
  return {
    corrections: corrections.toSorted((a, b) => Number(b.hurts) - Number(a.hurts)),
    others: [...others].map(([owner, changes]) => ({ owner, changes })),
  };
}

/** The parts of a protocol that fields refer to by an id, by the name of the field. */
const REFERS_TO: Readonly<Record<string, string>> = {
  stage: 'stages',
  step: 'steps',
  roundOf: 'steps',
  beginsWith: 'steps',
  onlyAfter: 'steps',
  redo: 'steps',
  equals: 'steps',
  /** Of a way of pressing; that a person does a step names no entry. */
  by: 'steps',
  confirmedBy: 'steps',
  list: 'lists',
  slot: 'slots',
  uses: 'slots',
  cautions: 'cautions',
  source: 'sources',
  wayBack: 'waysBack',
};

const CHOICES = 'protocol//choices';

/** What a piece of a protocol names, as `part/id`. */
export function namedIn(value: unknown, field: string): readonly string[] {
  if (typeof value === 'string') {
    if (field === 'choice') return [CHOICES];
    const part = REFERS_TO[field];
    return part === undefined ? [] : [`${part}/${value}`];
  }
  if (Array.isArray(value)) return value.flatMap((item) => namedIn(item, field));
  if (!isFields(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => namedIn(inner, key));
}

function namedBy(change: Change): readonly string[] {
  if (change.kind === 'added') return namedIn(change.item, '');
  if (change.kind !== 'changed') return [];
  return namedIn(change.after, change.key.split('.').at(-1) ?? '');
}

/**
 * The chosen changes and those of `all` that they cannot stand without: the source of a number, the
 * stage, material or step that something names. In the order of `all`.
 */
export function withNeeded(chosen: readonly Change[], all: readonly Change[]): readonly Change[] {
  const taken = new Set(chosen.map(changeId));
  const open = [...chosen];
  for (let change = open.pop(); change !== undefined; change = open.pop()) {
    const named = new Set(namedBy(change));
    for (const other of all) {
      const id = changeId(other);
      const isNeeded =
        other.kind === 'added' ? named.has(`${other.part}/${other.id}`) : named.has(id);
      if (!isNeeded || taken.has(id)) continue;
      taken.add(id);
      open.push(other);
    }
  }
  return all.filter((change) => taken.has(changeId(change)));
}
