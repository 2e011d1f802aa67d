/** What the protocol pages show, worked out from the document. Pure. */

import { unreachable } from '../../base/assert.ts';
import type { Figure, Protocol, Source, Step, Window } from '../../protocol/types.ts';
import { basisWords } from '../../words/basis-words.ts';
import { whereWords } from '../../words/condition-words.ts';
import { formatWords } from '../../words/duration.ts';
import { materialForms } from '../../words/material-words.ts';
import { formatQuantity } from '../../words/number.ts';
import { type FigureName, protocolWords } from '../../words/protocol-words.ts';
import type { GaugeTimes } from '../parts/gauge-geometry.ts';

/** One number of a step or window, ready to be read: "target", "20 s", where from. */
export interface FigureRow {
  readonly id: string;
  readonly label: string;
  readonly shown: string;
  readonly basisKind: string;
  readonly basisLine: string;
}

const SHORT_HASH_LENGTH = 8;

/** The title of a step by its id. */
export const stepTitles =
  ({ steps }: Pick<Protocol, 'steps'>) =>
  (id: string): string =>
    steps.find((step) => step.id === id)?.title ?? id;

/** From which step to which a window stands open, by their titles. */
export function windowEnds(protocol: Pick<Protocol, 'steps'>, { from, to }: Window) {
  const titleOf = stepTitles(protocol);
  return { from: titleOf(from.step), to: titleOf(to.step) };
}

export const shortHash = (hash: string): string => hash.slice(0, SHORT_HASH_LENGTH);

function row(
  id: FigureName,
  o: { readonly figure: Figure | undefined; readonly shown: (value: number) => string },
  sources: readonly Source[],
): FigureRow[] {
  if (!o.figure) return [];
  const { kind, line } = basisWords(o.figure.basis, sources);
  const shown = o.shown(o.figure.value);
  return [{ id, label: protocolWords.figures[id], shown, basisKind: kind, basisLine: line }];
}

const inWords = (ms: number): string => formatWords(ms);
const plain = (count: number): string => String(count);
const dose = (value: number): string => formatQuantity({ value, unit: 'J/cm²', digits: 1 });

/** The numbers that the action of a step holds. */
export function actionFigures(
  step: Step,
  sources: readonly Source[],
  protocol: Pick<Protocol, 'choices'> = {},
): FigureRow[] {
  const { action } = step;
  const time = (id: FigureName, figure: Figure | undefined) =>
    row(id, { figure, shown: inWords }, sources);
  switch (action.kind) {
    case 'confirm':
    case 'choose':
      return [];
    case 'dwell':
      return [
        ...time('min', action.minMs),
        ...time('target', action.targetMs),
        ...time('max', action.maxMs),
        ...Object.entries(action.byMaterial ?? {}).flatMap(([material, times]) =>
          [
            ...time('min', times.minMs),
            ...time('target', times.targetMs),
            ...time('max', times.maxMs),
          ].map((row) => ({
            ...row,
            id: `${material} ${row.id}`,
            label: protocolWords.ofMaterial({
              label: row.label,
              material: materialForms(material).inLine,
            }),
          })),
        ),
        ...(action.variants ?? []).flatMap((times, i) =>
          [
            ...time('min', times.minMs),
            ...time('target', times.targetMs),
            ...time('max', times.maxMs),
          ].map((row) => ({
            ...row,
            id: `variant ${i} ${row.id}`,
            label: protocolWords.ofMaterial({
              label: row.label,
              material: whereWords(times.where, protocol),
            }),
          })),
        ),
      ];
    case 'coats':
      return [
        ...row('coats', { figure: action.count, shown: plain }, sources),
        ...time('gap', action.gapMsMin),
      ];
    case 'expose':
      return [
        ...time('surface', action.perSurfaceMs),
        ...row('dose', { figure: action.doseJPerCm2, shown: dose }, sources),
        ...time('rest', action.restMs),
      ];
    case 'tally':
      return row('passes', { figure: action.passesMax, shown: plain }, sources);
    default:
      return unreachable(action);
  }
}

/** The numbers that only plan how long hands are busy. */
export function paceFigures(step: Step, sources: readonly Source[]): FigureRow[] {
  const time = (id: FigureName, figure: Figure | undefined) =>
    row(id, { figure, shown: inWords }, sources);
  return [
    ...time('median', step.pace.medianMs),
    ...time('p90', step.pace.p90Ms),
    ...time('perSubject', step.pace.perSubjectMs),
    ...time('apply', step.hands?.applyMs),
    ...time('rinse', step.hands?.rinseMs),
    ...pressingFigures(step, time),
  ];
}

/** How long one subject of a sweep takes, and what there is between two places of a light pass. */
function pressingFigures(
  { pressed }: Step,
  time: (id: FigureName, figure: Figure | undefined) => FigureRow[],
): FigureRow[] {
  if (pressed?.kind === 'paced') return time('change', pressed.changeMs);
  if (pressed?.kind !== 'sweep') return [];
  const { start, end } = pressed;
  return [
    ...time('startShortest', start?.shortestMs),
    ...time('startLongest', start?.longestMs),
    ...time('endShortest', end?.shortestMs),
    ...time('endLongest', end?.longestMs),
  ];
}

export function windowFigures(window: Window, sources: readonly Source[]): FigureRow[] {
  return [
    ...row('min', { figure: window.minMs, shown: inWords }, sources),
    ...row('target', { figure: window.targetMs, shown: inWords }, sources),
    ...row('max', { figure: window.maxMs, shown: inWords }, sources),
  ];
}

/** The gauge of a step as it should stand when the step ends; null when nothing is timed. */
export function stepGauge(step: Step): GaugeTimes | null {
  const { action } = step;
  if (action.kind === 'dwell') {
    const wantedMs = action.targetMs.value;
    return {
      kind: 'dwell',
      elapsedLoMs: wantedMs,
      elapsedHiMs: wantedMs,
      targetMs: wantedMs,
      ...(action.minMs ? { floorMs: action.minMs.value } : {}),
      ...(action.maxMs ? { rimMs: action.maxMs.value } : {}),
    };
  }
  if (action.kind === 'expose' && action.perSurfaceMs) {
    const wantedMs = action.perSurfaceMs.value;
    const exact = { elapsedLoMs: wantedMs, elapsedHiMs: wantedMs, targetMs: wantedMs };
    return { kind: 'exposure', ...exact };
  }
  return null;
}

/** Longer times are drawn longer, but a minute is not four times as long as a quarter. */
export function gaugeLengthPx(times: GaugeTimes, o: { readonly maxPx: number }): number {
  const ms = times.rimMs ?? times.targetMs ?? 0;
  const share = Math.sqrt(Math.min(ms, LONGEST_DRAWN_MS) / LONGEST_DRAWN_MS);
  return Math.round(SHORTEST_PX + (o.maxPx - SHORTEST_PX) * share);
}

const LONGEST_DRAWN_MS = 120_000;
const SHORTEST_PX = 72;

interface SequenceRow {
  readonly step: Step;
  /** 1-based row of the picture, stage headings counted. */
  readonly line: number;
}

interface SequenceStage {
  readonly id: string;
  readonly title: string;
  readonly line: number;
  readonly rows: readonly SequenceRow[];
}

export interface SequenceWindow {
  readonly window: Window;
  readonly letter: string;
  readonly fromLine: number;
  readonly toLine: number;
  /** Column of the bracket, from 0, so that brackets never cross. */
  readonly lane: number;
}

export interface Sequence {
  readonly protocol: Pick<Protocol, 'choices'>;
  readonly stages: readonly SequenceStage[];
  readonly windows: readonly SequenceWindow[];
  readonly lines: number;
  readonly lanes: number;
}

const LETTER_A = 65;

/** The picture of a protocol: a line for every stage and step, a lane for every window. */
export function sequenceOf(protocol: Protocol): Sequence {
  let line = 0;
  const lineOf = new Map<string, number>();
  const stages = protocol.stages.map((stage) => {
    line += 1;
    const head = line;
    const rows = protocol.steps
      .filter((s) => s.stage === stage.id)
      .map((step) => {
        line += 1;
        lineOf.set(step.id, line);
        return { step, line };
      });
    return { ...stage, line: head, rows };
  });
  const windows = laned(protocol, lineOf);
  const lanes = windows.reduce((most, w) => Math.max(most, w.lane + 1), 0);
  return { protocol, stages, windows, lines: line, lanes };
}

function laned(protocol: Protocol, lineOf: ReadonlyMap<string, number>): SequenceWindow[] {
  const endOfLane: number[] = [];
  const spans = protocol.windows.map((window) => {
    const ends = [lineOf.get(window.from.step) ?? 1, lineOf.get(window.to.step) ?? 1];
    return { window, fromLine: Math.min(...ends), toLine: Math.max(...ends) };
  });
  const sorted = spans.toSorted((a, b) => a.fromLine - b.fromLine || a.toLine - b.toLine);
  return sorted.map((span, index) => {
    const free = endOfLane.findIndex((end) => end < span.fromLine);
    const lane = free < 0 ? endOfLane.length : free;
    endOfLane[lane] = span.toLine;
    return { ...span, lane, letter: String.fromCharCode(LETTER_A + index) };
  });
}
