/** Why the lamp is set to a time, in one line beside the press. */
import { unreachable } from '../base/assert.ts';
import { lightLine } from './en/light-line.ts';
import { spoken } from './language.ts';
import { formatDecimal } from './number.ts';

const words = spoken('lightLine', lightLine);

interface Times {
  /** What the lamp is set to now, and all that this place is to receive. */
  readonly setMs: number;
  readonly ofMs: number;
}

interface Dosed extends Times {
  /** What the dose takes, before it is rounded up to a time of the lamp. */
  readonly doseMs: number;
  readonly doseJPerCm2: number;
  /** Null where the light meets no ceramic. */
  readonly behindMm: number | null;
}

export type LightLineParts =
  | (Times & { readonly kind: 'product' })
  | (Times & { readonly kind: 'left' })
  | (Dosed & { readonly kind: 'dose' | 'product-longer' | 'held' });

const seconds = (ms: number): string => {
  const tenths = Math.round(ms / 100) / 10;
  return formatDecimal({ value: tenths, digits: Number.isInteger(tenths) ? 0 : 1 });
};

/** One line; a sentence without its full stop, as headings are. */
export function lightLineWords(parts: LightLineParts): string {
  const { setMs, ofMs } = parts;
  const set =
    setMs === ofMs
      ? words.set(seconds(setMs))
      : words.setOf({ set: seconds(setMs), of: seconds(ofMs) });
  if (parts.kind === 'product') return words.product(set);
  if (parts.kind === 'left') return words.left({ set: seconds(setMs), of: seconds(ofMs) });
  const { doseMs, doseJPerCm2, behindMm } = parts;
  const told = {
    set,
    needs: seconds(doseMs),
    dose: String(doseJPerCm2),
    behind: behindMm === null ? null : String(behindMm),
  };
  switch (parts.kind) {
    case 'dose':
      return words.dose(told);
    case 'product-longer':
      return words.productLonger(told);
    case 'held':
      return words.held(told);
    default:
      return unreachable(parts);
  }
}
