/** An accepted yearly rate as people type it: in per cent, with a comma or a point. */
import { ACCEPTED_MAX } from '../../outcomes/model/accepted.ts';
import { formatDecimal } from '../../words/number.ts';

/** Steps of one tenth of a per cent. */
const STEPS = 1000;

export const percentText = (share: number): string =>
  formatDecimal({ value: share * 100, digits: 1 });

/** The share that was typed, from 0.001 to 0.2; null where it is none. */
export function rateIn(text: string): number | null {
  const figure = /^(\d{1,2})(?:[.,](\d)0*)?$/.exec(text.trim());
  if (figure === null) return null;
  const share = (Number(figure[1]) * 10 + Number(figure[2] ?? 0)) / STEPS;
  return share > 0 && share <= ACCEPTED_MAX ? share : null;
}
