/** What speaks against a lot, in one line each. */
import type { MaterialWarning } from './codes.ts';

const days = (count: number): string => (count === 1 ? '1 day' : `${count} days`);

/** One line for what speaks against using a lot now. */
export function warningWords(warning: MaterialWarning): string {
  switch (warning.code) {
    case 'recalled':
      return warning.reason === '' ? 'Recalled' : `Recalled: ${warning.reason}`;
    case 'expired':
      return `Expired ${days(warning.days)} ago`;
    case 'opened-too-long':
      return `Opened too long, by ${days(warning.days)}`;
    case 'still-cold':
      return warning.minutes === null
        ? 'In the refrigerator'
        : `Still cold for ${warning.minutes} min`;
  }
}
