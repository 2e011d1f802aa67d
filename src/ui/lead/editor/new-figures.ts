/**
 * Numbers that a form makes and that nobody has typed yet. Such a number has no value that a document
 * could hold, so that the parser keeps it out until somebody has given one.
 */
import { isSameJson } from '../../../base/json.ts';
import { fieldAt } from '../../../protocol/edit-types.ts';
import type { Figure, Step, Window } from '../../../protocol/types.ts';
import { type NumberCell, paceCells, stepRow } from './editor-model.ts';

export const blankFigure = (): Figure => ({ value: Number.NaN, basis: { kind: 'practice' } });

export const isBlank = ({ value }: Figure): boolean => Number.isNaN(value);

/** Light is given by a time, by a radiant exposure, or by both. */
const EITHER: readonly string[] = ['action.perSurfaceMs', 'action.doseJPerCm2'];

/** What a number of the form is held against. */
export interface Known {
  /** The step as it stands in the protocol; undefined for a new one. */
  readonly saved: Step | undefined;
  /** The step as the form found it. */
  readonly first: Step;
  /** Keys of the numbers that were typed in this form. */
  readonly typed: ReadonlySet<string>;
}

function cellsOf(step: Step): readonly NumberCell[] {
  const row = stepRow(step);
  const own = row === null ? [] : [row.min, row.target, row.max, row.other].flat();
  return [...own, ...paceCells(step)];
}

/** Whether the form made this number: its place is new, or it is empty, typed, or nowhere in the step. */
function isNew({ spot, figure }: NumberCell, { saved, first, typed }: Known): boolean {
  if (saved === undefined || fieldAt(saved, spot.key) === undefined) return true;
  if (figure === null) return false;
  if (isBlank(figure) || typed.has(spot.key)) return true;
  const known = [...cellsOf(saved), ...cellsOf(first)];
  return !known.some((cell) => isSameJson(cell.figure, figure));
}

/** The numbers of a step that its form made: those of a new step, of another action, of a new class. */
export function newCells(step: Step, known: Known): readonly NumberCell[] {
  const row = stepRow(step);
  if (row === null) return [];
  return [row.min, row.target, row.max, row.other].flat().filter((cell) => {
    const { spot, figure } = cell;
    if (spot.key.startsWith('pressed.') || !isNew(cell, known)) return false;
    return figure !== null || (EITHER.includes(spot.key) && known.saved?.action.kind !== 'expose');
  });
}

/** The rhythm of the hands, where the form made it. */
export function newHandCells(step: Step, known: Known): readonly NumberCell[] {
  return paceCells(step).filter((cell) => cell.spot.key.startsWith('hands.') && isNew(cell, known));
}

/** A copy with the number at a dotted key; without it when there is none. */
function withFigure<T extends object>(item: T, key: string, figure: Figure | null): T {
  const copy = structuredClone(item);
  const path = key.split('.');
  const last = path.pop() ?? '';
  const owner = path.length === 0 ? copy : fieldAt(copy, path.join('.'));
  if (typeof owner !== 'object' || owner === null) return copy;
  if (figure === null) Reflect.deleteProperty(owner, last);
  else Reflect.set(owner, last, figure);
  return copy;
}

/** The step with one of its new numbers; one that it cannot do without stays, and is asked for. */
export function withNewFigure(step: Step, key: string, figure: Figure | null): Step {
  if (figure !== null || !EITHER.includes(key)) {
    return withFigure(step, key, figure ?? blankFigure());
  }
  const next = withFigure(step, key, null);
  const hasOther = EITHER.some((other) => fieldAt(next, other) !== undefined);
  return hasOther ? next : withFigure(next, 'action.perSurfaceMs', blankFigure());
}

/** The window with a bound or without it; a window without any asks for its limit. */
export function withNewBound(
  window: Window,
  key: 'minMs' | 'maxMs',
  figure: Figure | null,
): Window {
  const next = withFigure(window, key, figure);
  const blank = next.maxMs !== undefined && isBlank(next.maxMs);
  if (blank && key === 'minMs' && figure !== null && !isBlank(figure)) {
    return withFigure(next, 'maxMs', null);
  }
  const hasBound = next.minMs !== undefined || next.maxMs !== undefined;
  return hasBound ? next : withFigure(next, 'maxMs', blankFigure());
}
