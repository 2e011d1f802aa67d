/**
 * The numbers that a quotation gives in the unit of a figure. Input: the sentence as it stands in a
 * document, in the language of that document; output: numbers in ms, J/cm² or pieces, and the ranges
 * between two of them. A number without a unit says nothing of a time.
 */

export type QuotedUnit = 'ms' | 'J/cm2' | 'count';

export interface Quoted {
  readonly low: number;
  readonly high: number;
  /** As it stands in the sentence: "15 to 30 s". */
  readonly text: string;
}

const MS = { second: 1_000, minute: 60_000, hour: 3_600_000, day: 86_400_000 } as const;

/** Beginnings of the words for a unit in English, German, French, Spanish, Italian and Portuguese. */
const UNITS: readonly (readonly [pattern: string, ms: number])[] = [
  [String.raw`s|″|"|se[ckg]\p{L}*`, MS.second],
  [String.raw`m|′|'|min\p{L}*`, MS.minute],
  [String.raw`h|hrs?|std|hour\p{L}*|stunde\p{L}*|heure\p{L}*|hora\p{L}*|or[ae]`, MS.hour],
  [String.raw`d|day\p{L}*|tage?n?|jours?|d[ií]as?|giorn\p{L}*`, MS.day],
];

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const BETWEEN = String.raw`\s*(?:-|–|—|to|bis|à|a|till|until|up to|and|und)\s*`;
const WORD = String.raw`[\p{L}″"′']+`;
const UNIT = `(?:${UNITS.map(([pattern]) => pattern).join('|')})(?!\\p{L})`;
const TIMES = new RegExp(
  String.raw`(?<![\d.,])(?:(${NUMBER})\s*[x×]\s*)?(${NUMBER})\s*(${UNIT})?(?:${BETWEEN}(${NUMBER})\s*(${UNIT}))?`,
  'gu',
);
const COLONS = /(?<!\d)(\d{1,3}):([0-5]\d)(?!\d)/g;
const DOSE = new RegExp(String.raw`(${NUMBER})(?:${BETWEEN}(${NUMBER}))?\s*(m?J)\b`, 'gu');
const COUNT = new RegExp(
  String.raw`(?<![\d.,])(\d{1,3})(?:${BETWEEN}(\d{1,3}))?(?![\d.,]*\d)\s*(${WORD}|%|°)?`,
  'gu',
);
/** What a number is of that counts neither coats nor passes. */
const NOT_COUNTED =
  /^(?:%|°|[mc]m|m[lg]|[µμ]l|g|nm|m?w|m?j|c|n|mpa|h|hrs?|std|m|s|″|"|′|'|(?:se[ckg]|min|hour|stunde|heure|hora|day|tag|jour|d[ií]a)\p{L}*)$/u;
const WORDS = ['', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];

const number = (text: string): number => Number(text.replace(',', '.'));

function unitMs(word: string | undefined): number | null {
  if (word === undefined) return null;
  return UNITS.find(([pattern]) => new RegExp(`^(?:${pattern})$`, 'u').test(word))?.[1] ?? null;
}

const one = (value: number, text: string): Quoted => ({ low: value, high: value, text });

function quotedTimes(sentence: string): readonly Quoted[] {
  const found: Quoted[] = [];
  for (const [text, minutes = '0', seconds = '0'] of sentence.matchAll(COLONS)) {
    found.push(one(Number(minutes) * MS.minute + Number(seconds) * MS.second, text));
  }
  let last: { readonly ms: number; readonly unit: number; readonly end: number } | null = null;
  for (const match of sentence.replaceAll(COLONS, ' ').matchAll(TIMES)) {
    const [whole, times, first = '', firstUnit, second, secondUnit] = match;
    const text = whole.trim();
    const unit = unitMs(firstUnit) ?? (firstUnit === undefined ? unitMs(secondUnit) : null);
    if (unit === null) continue;
    const low = number(first) * unit;
    const isRange = second !== undefined && unitMs(secondUnit) !== null;
    found.push({ low, high: isRange ? number(second) * (unitMs(secondUnit) ?? unit) : low, text });
    if (times !== undefined) found.push(one(number(times) * low, text));
    // "1 min 30 s" is a minute, half a minute, and the two together.
    const isNext: boolean = last !== null && match.index - last.end <= 2 && unit < last.unit;
    if (last !== null && isNext) found.push(one(last.ms + low, text));
    last = { ms: low, unit, end: match.index + whole.trimEnd().length };
  }
  return found;
}

function quotedDoses(sentence: string): readonly Quoted[] {
  return [...sentence.matchAll(DOSE)].map(([text, low = '', high = low, unit]) => {
    const scale = unit === 'mJ' ? 1_000 : 1;
    return { low: number(low) / scale, high: number(high) / scale, text };
  });
}

function quotedCounts(sentence: string): readonly Quoted[] {
  const spelt = WORDS.flatMap((word, value) =>
    word !== '' && new RegExp(String.raw`\b${word}\b`, 'u').test(sentence)
      ? [one(value, word)]
      : [],
  );
  const written = [...sentence.matchAll(COUNT)].flatMap(([text, low = '', high = low, unit]) =>
    unit !== undefined && NOT_COUNTED.test(unit)
      ? []
      : [{ low: Number(low), high: Number(high), text: text.trim() }],
  );
  return [...spelt, ...written];
}

/** The numbers of a sentence that could be the figure; none where it gives none in that unit. */
export function quotedNumbers(sentence: string, unit: QuotedUnit): readonly Quoted[] {
  const text = sentence.replaceAll(/[\u00a0\u202f]/g, ' ').toLowerCase();
  switch (unit) {
    case 'ms':
      return quotedTimes(text);
    case 'J/cm2':
      return quotedDoses(sentence.replaceAll(/[\u00a0\u202f]/g, ' '));
    case 'count':
      return quotedCounts(text);
  }
}
