/** What the checks of a protocol say to the clinic lead, a sentence for each code. */
import type { FindingCode, FindingValues } from '../protocol/finding.ts';
import type { PracticeFinding } from '../protocol/ranges-practice.ts';
import { conditionWords } from './condition-words.ts';
import { formatWords } from './duration.ts';
import { editorWords } from './editor-words.ts';
import { finding, type TightWindow } from './en/finding.ts';
import { spoken } from './language.ts';
import { protocolWords } from './protocol-words.ts';
import { SURFACE_WORDS } from './subject-words.ts';

const findingTexts = spoken('finding', finding);

type Told = typeof finding.told;
type Code = FindingCode | PracticeFinding['code'];

function text(values: FindingValues, key: string): string {
  const value = values[key];
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

function list(values: FindingValues, key: string): readonly string[] {
  const value = values[key];
  return Array.isArray(value) ? value.map(String) : [];
}

function known(table: Readonly<Record<string, string>>, code: string): string {
  return table[code] ?? code;
}

/** "30 s", "4 coats"; with its unit as it came when that has no words. */
function amount(value: number | string, unit: string): string {
  const amounts: Readonly<Record<string, (value: number | string) => string>> = findingTexts.amount;
  return amounts[unit]?.(value) ?? `${value}\u00a0${unit}`;
}

/** "15 to 30 s", "at least 30 s", "at most 4 coats". */
export function rangeWords(o: {
  readonly min: number | null;
  readonly max: number | null;
  readonly unit: string;
}): string {
  const { min, max, unit } = o;
  const { range } = findingTexts;
  if (max === null) return range.atLeast(amount(min ?? 0, unit));
  if (min === null) return range.atMost(amount(max, unit));
  return range.between({ min, max: amount(max, unit) });
}

function tight(values: FindingValues): TightWindow {
  const seconds = (key: string): string => amount(text(values, key), 's');
  const times = list(values, 'stepSeconds');
  return {
    title: text(values, 'title'),
    limit: seconds('limitSeconds'),
    missing: seconds('missingSeconds'),
    others: list(values, 'otherWindows'),
    steps: list(values, 'steps').map((title, i) => ({ title, time: amount(times[i] ?? '?', 's') })),
  };
}

function joined(values: FindingValues) {
  const scope = (key: string): string => known(protocolWords.scopes, text(values, key));
  const link = known(editorWords.linkWords, text(values, 'link'));
  return { link, from: scope('from'), to: scope('to') };
}

/** A limit by the key of its figure: times in words, a reading as it is. */
function crossed(values: FindingValues) {
  const names: Readonly<Record<string, { readonly low: string; readonly high: string }>> =
    findingTexts.crossed;
  const name = (key: 'low' | 'high'): string =>
    names[text(values, key)]?.[key] ?? text(values, key);
  const value = (key: 'low' | 'high'): string => {
    const number = text(values, `${key}Value`);
    return text(values, key).endsWith('Ms') ? formatWords(Number(number)) : number;
  };
  return {
    low: name('low'),
    lowValue: value('low'),
    high: name('high'),
    highValue: value('high'),
  };
}

function outside(values: FindingValues) {
  const limit = (key: string): number | null => {
    const value = values[key];
    return typeof value === 'number' && value >= 0 ? value : null;
  };
  const unit = text(values, 'unit');
  return {
    title: text(values, 'title'),
    value: amount(text(values, 'value'), unit),
    range: rangeWords({ min: limit('min'), max: limit('max'), unit }),
    isPublished: text(values, 'standing') !== 'common practice',
    source: text(values, 'source'),
  };
}

/** What keeps a dose from being reached, and what helps: a sentence each. */
export function heldWords(values: FindingValues) {
  const { cause, wayOut } = findingTexts.held;
  return {
    cause: known(cause, text(values, 'cause')),
    wayOut: known(wayOut, text(values, 'wayOut')),
  };
}

const heldBy = (values: FindingValues) => ({
  ...idOf(values),
  ...titleOf(values),
  ...heldWords(values),
  reached: text(values, 'reachedJPerCm2'),
});

const thick = (values: FindingValues) => ({
  ...idOf(values),
  mm: text(values, 'mm'),
  most: text(values, 'mostMm'),
});

/** A number in its own unit: "22 s", "3", "16 J/cm²". */
function quantity(values: FindingValues, key: 'value' | 'least' | 'most'): string {
  const [value, unit] = [Number(values[key]), text(values, 'unit')];
  if (unit === 'ms') return value % 1000 === 0 ? formatWords(value) : amount(value / 1000, 's');
  return unit === 'J/cm2' ? amount(value, 'J/cm²') : String(value);
}

const idOf = (values: FindingValues) => ({ id: text(values, 'id') });
const titleOf = (values: FindingValues) => ({ title: text(values, 'title') });

/** What is said for a code, and which values its sentence needs. */
const TELL: Readonly<Record<Code, (told: Told, v: FindingValues) => string>> = {
  'duplicate-id': (told, v) => told['duplicate-id'](idOf(v)),
  'unknown-stage': (told, v) => told['unknown-stage'](idOf(v)),
  'unknown-step': (told, v) => told['unknown-step'](idOf(v)),
  'unknown-slot': (told, v) => told['unknown-slot'](idOf(v)),
  'unknown-caution': (told, v) => told['unknown-caution'](idOf(v)),
  'caution-not-short': (told, v) =>
    told['caution-not-short']({ length: Number(v['length']), max: Number(v['max']) }),
  'unknown-source': (told, v) => told['unknown-source'](idOf(v)),
  'unknown-way-back': (told, v) => told['unknown-way-back'](idOf(v)),
  'unknown-option': (told, v) => told['unknown-option'](idOf(v)),
  'link-needs-same-scope': (told, v) => told['link-needs-same-scope'](joined(v)),
  'link-needs-other-scope': (told, v) => told['link-needs-other-scope'](joined(v)),
  'link-has-no-order': (told, v) => told['link-has-no-order'](joined(v)),
  'waits-in-a-circle': (told, v) => told['waits-in-a-circle']({ steps: list(v, 'chain') }),
  'bounds-crossed': (told, v) => told['bounds-crossed'](crossed(v)),
  'window-without-bound': (told, v) => told['window-without-bound'](titleOf(v)),
  'window-of-one-moment': (told, v) => told['window-of-one-moment'](titleOf(v)),
  'window-cannot-be-kept': (told, v) => told['window-cannot-be-kept'](tight(v)),
  'window-tight-on-a-slow-day': (told, v) => told['window-tight-on-a-slow-day'](tight(v)),
  'expose-without-time': (told) => told['expose-without-time'],
  'expose-without-surface': (told) => told['expose-without-surface'],
  'surface-twice': (told, v) =>
    told['surface-twice']({ surface: known(SURFACE_WORDS, text(v, 'surface')) }),
  'condition-without-value': (told) => told['condition-without-value'],
  'choice-without-options': (told) => told['choice-without-options'],
  'hands-without-dwell': (told) => told['hands-without-dwell'],
  'clock-without-dwell': (told) => told['clock-without-dwell'],
  'clock-not-after': (told, v) => told['clock-not-after'](idOf(v)),
  'no-steps': (told) => told['no-steps'],
  'unknown-choice': (told, v) => told['unknown-choice'](idOf(v)),
  'unknown-value': (told, v) => told['unknown-value']({ ...idOf(v), of: text(v, 'of') }),
  'not-asked': (told, v) =>
    told['not-asked']({ ...idOf(v), fact: known(conditionWords.facts, text(v, 'fact')) }),
  'light-cured-thick': (told, v) => told['light-cured-thick'](thick(v)),
  'light-cured-too-thick': (told, v) => told['light-cured-too-thick'](thick(v)),
  'light-dose-not-reached': (told, v) => told['light-dose-not-reached'](heldBy(v)),
  'light-target-not-reached': (told, v) => told['light-target-not-reached'](heldBy(v)),
  'light-product-over': (told, v) => told['light-product-over']({ ...idOf(v), ...titleOf(v) }),
  'light-no-programme': (told, v) => told['light-no-programme']({ ...idOf(v), ...titleOf(v) }),
  'product-light-over': (told, v) =>
    told['product-light-over']({ seconds: text(v, 'seconds'), most: text(v, 'mostSeconds') }),
  'dose-beyond-credit': (told, v) =>
    told['dose-beyond-credit']({ dose: text(v, 'dose'), most: text(v, 'most') }),
  unused: (told, v) => told.unused({ id: text(v, 'title') || text(v, 'id') }),
  'unknown-list': (told, v) => told['unknown-list'](idOf(v)),
  'press-does-not-fit': (told, v) => known(told['press-does-not-fit'], text(v, 'way')),
  'list-waits-outside': (told, v) =>
    told['list-waits-outside']({ ...titleOf(v), steps: list(v, 'chain') }),
  'list-spans-minimum': (told, v) => told['list-spans-minimum'](titleOf(v)),
  'sweep-without-edge': (told) => told['sweep-without-edge'],
  'sweep-start-not-pressed': (told, v) => told['sweep-start-not-pressed'](titleOf(v)),
  'start-not-pressed': (told, v) =>
    told['start-not-pressed']({
      ...titleOf(v),
      limit: formatWords(Number(v['limitMs'])),
    }),
  'implied-by-nothing': (told) => told['implied-by-nothing'],
  'implied-not-later': (told, v) => told['implied-not-later'](titleOf(v)),
  'implied-past-press': (told, v) => told['implied-past-press'](titleOf(v)),
  'implied-answer': (told, v) => told['implied-answer'](titleOf(v)),
  'implied-minimum': (told, v) => told['implied-minimum'](titleOf(v)),
  'paced-not-later': (told, v) => told['paced-not-later'](titleOf(v)),
  'quote-differs': (told, v) =>
    told['quote-differs']({ value: quantity(v, 'value'), said: list(v, 'said') }),
  'hardly-meant': (told, v) =>
    told['hardly-meant']({
      value: quantity(v, 'value'),
      least: quantity(v, 'least'),
      most: quantity(v, 'most'),
    }),
  'hazard-without-caution': (told, v) =>
    told['hazard-without-caution']({
      ...titleOf(v),
      hazard: known(findingTexts.hazards, text(v, 'hazard')),
    }),
  'title-too-long': (told, v) =>
    told['title-too-long']({ length: Number(v['length']), max: Number(v['max']) }),
  'after-signature': (told, v) =>
    told['after-signature']({ ...titleOf(v), signature: text(v, 'signature') }),
  'outside-range': (told, v) => told['outside-range'](outside(v)),
  'acid-on-zirconia': (told, v) => told['acid-on-zirconia']({ ...titleOf(v), on: text(v, 'on') }),
  'phosphate-on-zirconia': (told, v) => told['phosphate-on-zirconia'](titleOf(v)),
  'material-not-in-protocol': (told, v) =>
    told['material-not-in-protocol']({
      ...idOf(v),
      material: text(v, 'material'),
      materials: list(v, 'materials'),
    }),
  'restoration-not-in-protocol': (told, v) =>
    told['restoration-not-in-protocol']({
      ...idOf(v),
      restoration: text(v, 'restoration'),
      restorations: list(v, 'restorations'),
    }),
  'primed-unshielded': (told, v) => told['primed-unshielded'](titleOf(v)),
  'working-without-bead': (told, v) => told['working-without-bead'](titleOf(v)),
  'surface-missing': (told, v) => {
    const surfaces = list(v, 'surfaces').map((surface) => known(SURFACE_WORDS, surface));
    return told['surface-missing']({ ...titleOf(v), surfaces });
  },
  'nobody-does-it': (told, v) => {
    const role = text(v, 'role');
    const said = role === '' ? '' : known(protocolWords.roles, role);
    return told['nobody-does-it']({ ...titleOf(v), role: said, on: text(v, 'on') });
  },
};

/** A finding as one sentence. */
export function findingWords(found: {
  readonly code: Code;
  readonly values: FindingValues;
}): string {
  return TELL[found.code](findingTexts.told, found.values);
}
