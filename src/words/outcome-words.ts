/** Words of the outcomes page, and how its figures are written. */
import { DAYS_A_YEAR } from '../outcomes/figures/sizes.ts';
import type { EndPoint } from '../outcomes/life-types.ts';
import { rateOfQuestion } from '../outcomes/model/accepted.ts';
import type { Question } from '../outcomes/review-types.ts';
import type { AcceptedTold } from './en/accepted-rate.ts';
import { outcome } from './en/outcome.ts';
import { outcomeFlag } from './en/outcome-flag.ts';
import { outcomeGroup } from './en/outcome-group.ts';
import { spoken } from './language.ts';
import { formatDecimal } from './number.ts';

export const outcomeWords = spoken('outcome', outcome);
export const groupWords = spoken('outcomeGroup', outcomeGroup);
export const flagWords = spoken('outcomeFlag', outcomeFlag);

const NO_BREAK = '\u00a0';

/** A share from 0 to 1 with one decimal, `93.4 %`; what is neither none nor all never reads as such. */
export function shareWords(share: number): string {
  const percent = share * 100;
  const digits = { digits: 1 } as const;
  if (share < 1 && percent >= 99.95)
    return `>${formatDecimal({ value: 99.9, ...digits })}${NO_BREAK}%`;
  if (share > 0 && percent < 0.05)
    return `<${formatDecimal({ value: 0.1, ...digits })}${NO_BREAK}%`;
  return `${formatDecimal({ value: percent, ...digits })}${NO_BREAK}%`;
}

/** An accepted rate as sentences take it. */
export const acceptedTold = (o: {
  readonly endPoint: EndPoint;
  readonly yearlyRate: number;
  readonly fixedOn: string | null;
}): AcceptedTold => ({
  rate: shareWords(o.yearlyRate),
  endPoint: outcomeWords.endPoints[o.endPoint],
  isOwn: o.fixedOn !== null,
});

/** A question as it was fixed: day, end point, limits, accepted rate. */
export const questionTold = (
  question: Question,
  o: {
    readonly dateOf: (isoDay: string) => string;
    readonly titleOf: (limit: string) => string;
  },
): string =>
  groupWords.questionFixed({
    on: o.dateOf(question.onDay),
    endPoint: outcomeWords.endPoints[question.endPoint],
    limits: question.limits.map(o.titleOf),
    accepted: acceptedTold(rateOfQuestion(question)),
  });

/** `88.1 % to 96.0 %` */
export const rangeWords = ({
  low,
  high,
}: {
  readonly low: number;
  readonly high: number;
}): string => outcomeWords.range({ low: shareWords(low), high: shareWords(high) });

/** A number with one decimal, or with two. */
export const oneDigit = (value: number): string => formatDecimal({ value, digits: 1 });
export const twoDigits = (value: number): string => formatDecimal({ value, digits: 2 });

/** Days as years, `2.4`. */
export const yearsWords = (days: number): string => oneDigit(days / DAYS_A_YEAR);

/** `0.043`; what is less than can be told is said to be below it. */
export const pWords = (p: number): string =>
  p < 0.001 ? groupWords.small : formatDecimal({ value: p, digits: 3 });

/** `limit window/ID broken` as people read it. */
export function comparedWords(
  key: string,
  titleOf: (limit: string) => string,
): { readonly kind: string; readonly group: string } {
  const [kind = '', second = '', ...rest] = key.split(' ');
  switch (kind) {
    case 'limits':
      return { kind: groupWords.kind.limits(), group: second };
    case 'limit':
      return { kind: groupWords.kind.limit(titleOf(second)), group: rest.join(' ') };
    case 'revision':
      return { kind: groupWords.kind.revision(second), group: rest.join(' ') };
    case 'material':
      return { kind: groupWords.kind.material(), group: second };
    default:
      return { kind: groupWords.kind.lot(second), group: rest.join(' ') };
  }
}

const DAYS_TOLD = 90;

/** `14 days`, `2.4 years` */
export const whenWords = (days: number): string =>
  days < DAYS_TOLD ? outcomeWords.inDays(Math.round(days)) : outcomeWords.inYears(yearsWords(days));
