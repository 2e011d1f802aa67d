/**
 * What can be wrong with a label, by code, and one English line for each as the terminal prints it.
 * Screens have their own words for a code.
 */

/** What a label states, where a fault is about it. */
export type LabelFact =
  | 'lot'
  | 'serial'
  | 'expiry'
  | 'produced'
  | 'due'
  | 'packaged'
  | 'best-before'
  | 'sell-by';

interface Nothing {
  readonly code: LabelFaultCode;
}

/** What comes with each code. `ai` is an application identifier of GS1. */
interface FaultValues {
  readonly 'not-plain': Nothing;
  readonly 'too-long': { readonly max: number };
  readonly 'other-symbol': { readonly symbol: string };
  readonly 'no-label': Nothing;
  readonly 'no-ai-at': { readonly at: string };
  readonly 'no-brackets-at': { readonly at: string };
  readonly 'ai-unknown': { readonly ai: string };
  readonly 'ai-length': {
    readonly ai: string;
    readonly min: number;
    readonly max: number;
    readonly has: number;
  };
  readonly 'ai-not-digits': { readonly ai: string };
  readonly 'ai-character': { readonly ai: string };
  readonly 'ai-date': { readonly ai: string; readonly of: LabelFact; readonly data: string };
  readonly 'ai-twice': { readonly ai: string };
  readonly 'ai-excludes': { readonly ai: string; readonly other: string };
  readonly 'check-digit': { readonly identifier: string };
  readonly 'no-device': Nothing;
  readonly 'product-form': { readonly text: string };
  readonly twice: { readonly of: LabelFact };
  readonly date: { readonly text: string };
  readonly 'expiry-date': { readonly digits: string };
  readonly 'date-form': { readonly digit: string };
  readonly quantity: { readonly digits: string; readonly length: number };
  readonly meaning: { readonly text: string };
  readonly length: { readonly text: string; readonly max: number };
  readonly character: Nothing;
  readonly 'check-character': { readonly given: string; readonly right: string };
  readonly 'no-product': Nothing;
  /** An expiry and more that hide in a lot. */
  readonly 'separators-left-out': Nothing;
  /** Two codes that are not of one label. */
  readonly 'codes-apart': Nothing;
}

type LabelFaultCode = keyof FaultValues;

export type LabelFault<C extends LabelFaultCode = LabelFaultCode> = {
  readonly [K in C]: { readonly code: K } & FaultValues[K];
}[C];

/** A text for every code. */
export type LabelFaultTexts = {
  readonly [C in LabelFaultCode]: (fault: LabelFault<C>) => string;
};

const FACTS: Readonly<Record<LabelFact, string>> = {
  lot: 'lot',
  serial: 'serial number',
  expiry: 'expiry date',
  produced: 'production date',
  due: 'due date',
  packaged: 'packaging date',
  'best-before': 'best-before date',
  'sell-by': 'sell-by date',
};

const LINES: LabelFaultTexts = {
  'not-plain': () => 'the text holds characters that no label code has',
  'too-long': (f) => `the text is longer than ${f.max} characters, which no label code is`,
  'other-symbol': (f) => `symbol ${f.symbol} carries neither a GS1 nor an HIBC label`,
  'no-label': () => 'neither a GS1 nor an HIBC label',
  'no-ai-at': (f) => `no known application identifier at "${f.at}"`,
  'no-brackets-at': (f) => `no application identifier in brackets at "${f.at}"`,
  'ai-unknown': (f) => `(${f.ai}) is not a known application identifier`,
  'ai-length': ({ ai, min, max, has }) =>
    `(${ai}) must have ${min === max ? min : `${min} to ${max}`} characters, has ${has}`,
  'ai-not-digits': (f) => `(${f.ai}) must hold digits only`,
  'ai-character': (f) => `(${f.ai}) holds a character that GS1 does not allow`,
  'ai-date': (f) => `(${f.ai}) ${FACTS[f.of]} "${f.data}" is not a date`,
  'ai-twice': (f) => `(${f.ai}) appears twice and differs`,
  'ai-excludes': (f) => `(${f.ai}) and (${f.other}) exclude each other`,
  'check-digit': (f) => `(01) check digit is wrong in ${f.identifier}`,
  'no-device': () => 'no device identifier (01) in this code',
  'product-form': (f) => `"${f.text}" is not a product identifier`,
  twice: (f) => `${FACTS[f.of]} appears twice and differs`,
  date: (f) => `"${f.text}" is not a date`,
  'expiry-date': (f) => `expiry date "${f.digits}" is not a date`,
  'date-form': (f) => `"${f.digit}" announces no known form of date`,
  quantity: (f) => `quantity "${f.digits}" is not a number of ${f.length} digits`,
  meaning: (f) => `"${f.text}" has no known meaning`,
  length: (f) => `"${f.text}" must have 1 to ${f.max} characters`,
  character: () => 'a character is not allowed in an HIBC label',
  'check-character': (f) => `check character is "${f.given}", should be "${f.right}"`,
  'no-product': () => 'no product identifier in this code: scan the primary code too',
  'separators-left-out': () =>
    'the lot seems to hold the expiry date too: this scanner may leave separators out',
  'codes-apart': () => 'the two codes do not belong together',
};

/** One line without a full stop, in the words of one table or another. */
export function faultText<C extends LabelFaultCode>(
  texts: LabelFaultTexts,
  fault: LabelFault<C>,
): string {
  return texts[fault.code](fault);
}

/** One line as the terminal prints it. */
export const faultLine = (fault: LabelFault): string => faultText(LINES, fault);

/** Whether the second code of a label may still bring what is missing. */
export const isMissing = ({ code }: LabelFault): boolean =>
  code === 'no-device' || code === 'no-product';
