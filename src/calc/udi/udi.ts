/**
 * Reads the label of a material from scanned or typed text, GS1 or HIBC, and says what is wrong
 * with it.
 */
import { LABEL_LENGTH_MAX } from '../../base/caps.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { type Calc, defineCalc } from '../calc.ts';
import { readNumber, readObject, readText } from '../reading.ts';
import { readGs1 } from './gs1-label.ts';
import { leadingAi } from './gs1-syntax.ts';
import { readHibc } from './hibc.ts';
import { type DeviceLabel, unreadLabel } from './label.ts';
import { faultLine } from './label-fault.ts';

/** Symbology identifiers (ISO/IEC 15424) of codes that carry GS1 element strings. */
const GS1_SYMBOLOGIES = [']C1', ']d2', ']Q3', ']e0'];
const SEPARATOR = '\u001D';

/** Printable ASCII and the separator; anything else is a misread or a wrong keyboard layout. */
function isPlain(text: string): boolean {
  return [...text].every((each) => each === SEPARATOR || (each >= ' ' && each <= '~'));
}

/**
 * Reads one label.
 * @param label the text as scanned (a symbology identifier and separators 1D may be in it) or as
 *   printed; and the present four-digit year, which decides the century of two-digit years.
 * @returns always a label; `faults` is empty only when nothing was found wrong.
 */
export function readDeviceLabel(label: {
  readonly text: string;
  readonly presentYear: number;
}): DeviceLabel {
  const { presentYear } = label;
  const raw = label.text.replace(/[\r\n\t]+$/, '');
  if (raw.length > LABEL_LENGTH_MAX)
    return unreadLabel({ code: 'too-long', max: LABEL_LENGTH_MAX });
  if (!isPlain(raw)) return unreadLabel({ code: 'not-plain' });
  const symbology = /^\][A-Za-z]\w/.exec(raw)?.[0] ?? null;
  const text = symbology === null ? raw : raw.slice(symbology.length);
  if (/^\*?\+/.test(text)) return readHibc(text, presentYear);
  if (symbology !== null && !GS1_SYMBOLOGIES.includes(symbology)) {
    return unreadLabel({ code: 'other-symbol', symbol: symbology });
  }
  if (text.startsWith('(')) return readGs1(text.replaceAll(' ', ''), presentYear);
  const startsLikeGs1 =
    symbology !== null || text.startsWith(SEPARATOR) || leadingAi(text) !== null;
  return startsLikeGs1 ? readGs1(text, presentYear) : unreadLabel({ code: 'no-label' });
}

/** A label with its faults as lines of English. */
interface PrintedLabel extends Omit<DeviceLabel, 'faults'> {
  readonly problems: readonly string[];
}

const readInput = readObject({
  text: readText(LABEL_LENGTH_MAX),
  presentYear: readNumber({ min: 2000, max: 2999, whole: true }),
});

function compute(label: {
  readonly text: string;
  readonly presentYear: number;
}): Result<PrintedLabel, Problem> {
  if (label.text.trim() === '') {
    return err(problem('calc.udi.text', 'the text of a label', label.text));
  }
  const { faults, ...said } = readDeviceLabel(label);
  return ok({ ...said, problems: faults.map(faultLine) });
}

/**
 * `udi`: the facts of a label. The caller must give `presentYear`; the command line fills it in
 * from the clock when it is missing.
 */
export const udiCalc: Calc = defineCalc(
  {
    name: 'udi',
    about: 'device identifier, lot, expiry and serial of a scanned label',
    source:
      'GS1 General Specifications and GS1 Syntax Dictionary; ANSI/HIBC 2.x Supplier Labeling Standard',
  },
  readInput,
  compute,
);
