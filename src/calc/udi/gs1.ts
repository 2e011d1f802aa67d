/**
 * Reads GS1 element strings: as a scanner sends them (with FNC1 as the control character 1D and an
 * optional symbology identifier) or as printed with brackets. Pure text work; nothing is looked up.
 * Source: GS1 Syntax Dictionary and Syntax Engine (Apache-2.0), GS1 General Specifications.
 */
import { aiFault, aiRule, leadingAi } from './gs1-syntax.ts';
import { fullYear, type LabelDate, labelDate } from './label-date.ts';
import type { LabelFault } from './label-fault.ts';

export interface Gs1Element {
  readonly ai: string;
  readonly data: string;
}

interface Gs1Elements {
  readonly elements: readonly Gs1Element[];
  /** Empty when nothing is wrong. */
  readonly faults: readonly LabelFault[];
}

/** FNC1 as scanners transmit it. */
const SEPARATOR = '\u001D';

/**
 * Whether the last of some digits is the right GS1 check digit: weights 3, 1, 3 ... from the right,
 * the check digit itself left out.
 */
export function hasRightCheckDigit(digits: string): boolean {
  if (!/^\d{2,}$/.test(digits)) return false;
  const body = [...digits].slice(0, -1).toReversed();
  const sum = body.reduce((total, digit, at) => total + Number(digit) * (at % 2 === 0 ? 3 : 1), 0);
  return (10 - (sum % 10)) % 10 === Number(digits.at(-1));
}

/**
 * A GS1 date of six digits YYMMDD; DD may be 00.
 * @returns null when it is not such a date.
 */
export function gs1Date(digits: string, presentYear: number): LabelDate | null {
  if (!/^\d{6}$/.test(digits)) return null;
  const twoDigit = Number(digits.slice(0, 2));
  return labelDate({
    year: fullYear({ twoDigit, present: presentYear }),
    month: Number(digits.slice(2, 4)),
    day: Number(digits.slice(4, 6)),
  });
}

/** Splits one run of element strings at pre-defined lengths and separators. */
function splitRun(run: string): Gs1Elements {
  const elements: Gs1Element[] = [];
  let rest = run;
  while (rest.length > 0) {
    const ai = leadingAi(rest);
    const rule = ai === null ? null : aiRule(ai);
    if (ai === null || rule === null) {
      return { elements, faults: [{ code: 'no-ai-at', at: rest.slice(0, 4) }] };
    }
    const body = rest.slice(ai.length);
    const separator = body.indexOf(SEPARATOR);
    const end = rule.fixed ? rule.lengthMax : separator === -1 ? body.length : separator;
    const data = body.slice(0, end);
    elements.push({ ai, data });
    rest = body.slice(end);
    // A separator after data of pre-defined length is allowed and means nothing.
    if (rest.startsWith(SEPARATOR)) rest = rest.slice(1);
  }
  return { elements, faults: [] };
}

/** Splits text with brackets around each AI; `\(` stands for a bracket inside data. */
function splitBracketed(text: string): Gs1Elements {
  const elements: Gs1Element[] = [];
  const shape = /\((\d{2,4})\)((?:\\\(|[^(\\]|\\(?!\())*)/y;
  while (shape.lastIndex < text.length) {
    const at = shape.lastIndex;
    const match = shape.exec(text);
    if (match === null) {
      return { elements, faults: [{ code: 'no-brackets-at', at: text.slice(at, at + 6) }] };
    }
    elements.push({ ai: match[1] ?? '', data: (match[2] ?? '').replaceAll('\\(', '(') });
  }
  return { elements, faults: [] };
}

function elementFaults(elements: readonly Gs1Element[]): LabelFault[] {
  return elements.map(({ ai, data }) => aiFault(ai, data)).filter((fault) => fault !== null);
}

/**
 * Element strings of a scan without its symbology identifier, or of bracketed text.
 * Lengths, characters and AIs are checked here; meanings are not.
 */
export function gs1Elements(text: string): Gs1Elements {
  const split = text.startsWith('(')
    ? splitBracketed(text)
    : splitRun(text.startsWith(SEPARATOR) ? text.slice(1) : text);
  const faults = [...split.faults, ...elementFaults(split.elements)];
  return { elements: split.elements, faults };
}
