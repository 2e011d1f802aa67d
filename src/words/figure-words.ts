/** What the numbers of a protocol are called, by the key under which they stand. */
import type { FigureKey, MaterialKey, VariantKey } from '../protocol/edit-types.ts';
import { type FigureName, protocolWords } from './protocol-words.ts';

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
