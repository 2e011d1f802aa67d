/** What the numbers of a protocol are called, by the key under which they stand. */
import type { FigureKey, MaterialKey, VariantKey } from '../protocol/edit-types.ts';
import { COUNT_MAX, DOSE_J_PER_CM2_MAX } from '../protocol/schema-parts.ts';
import { editorWords } from './editor-words.ts';
import { type FigureName, protocolWords } from './protocol-words.ts';

export type FigureUnit = 'duration' | 'count' | 'dose' | 'ratio';

export function figureUnit(key: FigureKey): FigureUnit {
  if (key === 'action.doseJPerCm2') return 'dose';
  if (key === 'q10') return 'ratio';
  return key === 'action.count' || key === 'action.passesMax' ? 'count' : 'duration';
}

/** What a number of this kind has to be, in one line. */
export function numberNeeds(key: FigureKey): string {
  switch (figureUnit(key)) {
    case 'duration':
      return editorWords.needs.duration;
    case 'count':
      return editorWords.needs.count(COUNT_MAX);
    case 'dose':
      return editorWords.needs.dose(DOSE_J_PER_CM2_MAX);
    case 'ratio':
      return editorWords.needs.ratio;
  }
}

const FIGURE_NAMES: Readonly<Record<Exclude<FigureKey, MaterialKey | VariantKey>, FigureName>> = {
  'action.minMs': 'min',
  'action.targetMs': 'target',
  'action.maxMs': 'max',
  'action.count': 'coats',
  'action.gapMsMin': 'gap',
  'action.perSurfaceMs': 'surface',
  'action.doseJPerCm2': 'dose',
  'action.restMs': 'rest',
  'action.passesMax': 'passes',
  'pace.medianMs': 'median',
  'pace.p90Ms': 'p90',
  'pace.perSubjectMs': 'perSubject',
  'hands.applyMs': 'apply',
  'hands.rinseMs': 'rinse',
  'pressed.start.shortestMs': 'startShortest',
  'pressed.start.longestMs': 'startLongest',
  'pressed.end.shortestMs': 'endShortest',
  'pressed.end.longestMs': 'endLongest',
  'pressed.changeMs': 'change',
  minMs: 'min',
  targetMs: 'target',
  maxMs: 'max',
  q10: 'q10',
};

const OF_MATERIAL = /^action\.byMaterial\.([^.]+)\.(minMs|targetMs|maxMs)$/;

const OF_VARIANT = /^action\.variants\.(\d+)\.(minMs|targetMs|maxMs)$/;

function isVariantKey(key: string): key is VariantKey {
  return OF_VARIANT.test(key);
}

function isMaterialKey(key: string): key is MaterialKey {
  return OF_MATERIAL.test(key);
}

export function isFigureKey(key: string): key is FigureKey {
  return Object.hasOwn(FIGURE_NAMES, key) || isMaterialKey(key) || isVariantKey(key);
}

/** "target", or "target, leucite" for the times of one class of material. */
export function figureLabel(key: FigureKey): string {
  if (!isMaterialKey(key) && !isVariantKey(key)) return protocolWords.figures[FIGURE_NAMES[key]];
  const [, material = '', name] = OF_MATERIAL.exec(key) ?? OF_VARIANT.exec(key) ?? [];
  const plain = name === 'minMs' ? 'min' : name === 'maxMs' ? 'max' : 'target';
  const label = protocolWords.figures[plain];
  return isVariantKey(key)
    ? protocolWords.ofVariant({ label, number: Number(material) + 1 })
    : protocolWords.ofMaterial({ label, material });
}
