/** What the editor shows of a protocol: which number stands in which cell, and how it is written. */
import { unreachable } from '../../../base/assert.ts';
import { mixWindows } from '../../../plan/working-time.ts';
import { readDuration } from '../../../protocol/duration-entry.ts';
import type { FigureKey, Spot } from '../../../protocol/edit-types.ts';
import { COUNT_MAX, DOSE_J_PER_CM2_MAX, DURATION_MS_MAX } from '../../../protocol/schema-parts.ts';
import type { Figure, Protocol, Step, Window } from '../../../protocol/types.ts';
import { formatWords } from '../../../words/duration.ts';
import { editorWords } from '../../../words/editor-words.ts';
import {
  type FigureUnit,
  figureLabel,
  figureUnit,
  numberNeeds,
} from '../../../words/figure-words.ts';
import { formatQuantity } from '../../../words/number.ts';
import { windowName } from './editor-window-names.ts';

/** A value with its unit: "20 s", "5", "16 J/cm²". */
export function shownValue(key: FigureKey, value: number): string {
  switch (figureUnit(key)) {
    case 'duration':
      return value % 1000 === 0 ? formatWords(value) : `${value / 1000}\u00a0s`;
    case 'count':
    case 'ratio':
      return String(value);
    case 'dose':
      return formatQuantity({ value, unit: 'J/cm²', digits: Number.isInteger(value) ? 0 : 1 });
  }
}

function fitsUnit(unit: FigureUnit, value: number): boolean {
  switch (unit) {
    case 'count':
      return Number.isInteger(value) && value >= 1 && value <= COUNT_MAX;
    case 'dose':
      return value > 0 && value <= DOSE_J_PER_CM2_MAX;
    case 'ratio':
      return value >= 1 && value <= 10;
    case 'duration':
      return Number.isInteger(value) && value >= 1 && value <= DURATION_MS_MAX;
  }
}

type EntryReading =
  | { readonly ok: true; readonly value: number; readonly shown: string }
  | { readonly ok: false; readonly words: string };

/** What was typed for a number, read back or refused in one line. */
export function readEntry(key: FigureKey, text: string): EntryReading {
  if (figureUnit(key) === 'duration') {
    const read = readDuration(text);
    if (!read.ok) return { ok: false, words: editorWords.durationRefusals[read.error] };
    return { ok: true, value: read.value, shown: shownValue(key, read.value) };
  }
  const value = text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.'));
  if (fitsUnit(figureUnit(key), value)) return { ok: true, value, shown: shownValue(key, value) };
  return { ok: false, words: numberNeeds(key) };
}

export interface NumberCell {
  readonly spot: Spot & { readonly key: FigureKey };
  readonly title: string;
  readonly label: string;
  readonly figure: Figure | null;
  /** Whether the protocol can do without it. */
  readonly optional: boolean;
}

export interface NumberRow {
  readonly id: string;
  readonly title: string;
  readonly step: Step | null;
  readonly window: Window | null;
  readonly min: readonly NumberCell[];
  readonly target: readonly NumberCell[];
  readonly max: readonly NumberCell[];
  readonly other: readonly NumberCell[];
}

type CellOf = (key: FigureKey, figure: Figure | undefined, optional?: 'optional') => NumberCell[];

function cellsFor(owner: {
  readonly part: 'steps' | 'windows';
  readonly id: string;
  readonly title: string;
}): CellOf {
  return (key, figure, optional) => [
    {
      spot: { part: owner.part, id: owner.id, key },
      title: owner.title,
      label: figureLabel(key),
      figure: figure ?? null,
      optional: optional !== undefined,
    },
  ];
}

/** What a sweep or a pass of light is judged by. */
function pressedCells(step: Step): readonly NumberCell[] {
  const cell = cellsFor({ part: 'steps', id: step.id, title: step.title });
  const { pressed } = step;
  if (pressed?.kind === 'paced') return cell('pressed.changeMs', pressed.changeMs);
  if (pressed?.kind !== 'sweep') return [];
  const { start, end } = pressed;
  return [
    ...(start === undefined
      ? []
      : [
          ...cell('pressed.start.shortestMs', start.shortestMs),
          ...cell('pressed.start.longestMs', start.longestMs),
        ]),
    ...(end === undefined
      ? []
      : [
          ...cell('pressed.end.shortestMs', end.shortestMs),
          ...cell('pressed.end.longestMs', end.longestMs),
        ]),
  ];
}

/** The numbers of a step in their columns; null when its action has none. */
export function stepRow(step: Step): NumberRow | null {
  const cell = cellsFor({ part: 'steps', id: step.id, title: step.title });
  const none = { min: [], target: [], max: [], other: [] };
  const base = { id: step.id, title: step.title, step, window: null, ...none };
  const { action } = step;
  switch (action.kind) {
    case 'confirm':
    case 'choose':
      return null;
    case 'dwell':
      return {
        ...base,
        min: cell('action.minMs', action.minMs, 'optional'),
        target: cell('action.targetMs', action.targetMs),
        max: cell('action.maxMs', action.maxMs, 'optional'),
        other: Object.entries(action.byMaterial ?? {})
          .flatMap(([material, times]) => [
            ...cell(`action.byMaterial.${material}.minMs`, times.minMs, 'optional'),
            ...cell(`action.byMaterial.${material}.targetMs`, times.targetMs),
            ...cell(`action.byMaterial.${material}.maxMs`, times.maxMs, 'optional'),
          ])
          .concat(
            (action.variants ?? []).flatMap((times, i) => [
              ...cell(`action.variants.${i}.minMs`, times.minMs, 'optional'),
              ...cell(`action.variants.${i}.targetMs`, times.targetMs),
              ...cell(`action.variants.${i}.maxMs`, times.maxMs, 'optional'),
            ]),
          )
          .concat(pressedCells(step)),
      };
    case 'coats':
      return {
        ...base,
        target: cell('action.count', action.count),
        other: cell('action.gapMsMin', action.gapMsMin, 'optional'),
      };
    case 'expose':
      return {
        ...base,
        target: cell('action.perSurfaceMs', action.perSurfaceMs, 'optional'),
        other: [
          ...cell('action.doseJPerCm2', action.doseJPerCm2, 'optional'),
          ...cell('action.restMs', action.restMs, 'optional'),
          ...pressedCells(step),
        ],
      };
    case 'tally':
      return { ...base, max: cell('action.passesMax', action.passesMax) };
    default:
      return unreachable(action);
  }
}

/** A room shortens the working time of a mix, so that only there a factor for it is offered. */
export function windowRow(window: Window, protocol: Protocol): NumberRow {
  const isShortened = mixWindows(protocol).includes(window) || window.q10 !== undefined;
  const cell = cellsFor({
    part: 'windows',
    id: window.id,
    title: windowName(protocol, window),
  });
  return {
    id: window.id,
    title: window.title,
    step: null,
    window,
    min: cell('minMs', window.minMs, 'optional'),
    target: cell('targetMs', window.targetMs),
    max: [
      ...cell('maxMs', window.maxMs, 'optional'),
      ...(isShortened ? cell('q10', window.q10, 'optional') : []),
    ],
    other: [],
  };
}

/** The rhythm of the hands of a step, as cells. */
export function paceCells(step: Step): readonly NumberCell[] {
  const cell = cellsFor({ part: 'steps', id: step.id, title: step.title });
  const hands = step.hands
    ? [...cell('hands.applyMs', step.hands.applyMs), ...cell('hands.rinseMs', step.hands.rinseMs)]
    : [];
  return [
    ...cell('pace.medianMs', step.pace.medianMs),
    ...cell('pace.p90Ms', step.pace.p90Ms),
    ...cell('pace.perSubjectMs', step.pace.perSubjectMs, 'optional'),
    ...hands,
  ];
}

/** The cell of a spot, for a link that leads to one number; null when it is no number. */
export function cellOfSpot(protocol: Protocol, spot: Spot): NumberCell | null {
  const rows = [
    ...protocol.steps.flatMap((step) => {
      const row = stepRow(step);
      return [...(row ? [row.min, row.target, row.max, row.other].flat() : []), ...paceCells(step)];
    }),
    ...protocol.windows.flatMap((window) => {
      const row = windowRow(window, protocol);
      return [...row.min, ...row.max];
    }),
  ];
  const { part, id, key } = spot;
  return rows.find((c) => c.spot.part === part && c.spot.id === id && c.spot.key === key) ?? null;
}
