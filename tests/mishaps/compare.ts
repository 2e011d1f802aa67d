/** Whether a screen says what a row of the tables asks of it. */
import type { ChairSays } from './chair-says.ts';
import type { Must } from './table.ts';

/** Lines that are compared whole; of the others a row names a part. */
const WHOLE = new Set(['heading', 'tooth', 'bar', 'next', 'answers']);

/** `Load|Prime {1}` is either word before the same end, `Gel off {1}|{1} done` either whole. */
function choices(value: string): string[] {
  const parts = value.split('|').map((part) => part.trim());
  const tail = / [\d/, ]+$/.exec(parts.at(-1) ?? '')?.[0] ?? '';
  return parts.flatMap((part) => [part, `${part}${tail}`]);
}

function isSaid({ key, value }: Must, says: ChairSays): boolean {
  const words = says[key as keyof ChairSays];
  if (value === '-') return words === '';
  if (key === 'answers') return words.startsWith(value);
  return choices(value).some((each) => {
    if (!WHOLE.has(key)) return words.includes(each);
    return each.endsWith('…') ? words.startsWith(each.slice(0, -1)) : words === each;
  });
}

/** Every line of the screen. */
export const allOf = (says: ChairSays): string => Object.values(says).join('\n');

/** `> key value` beside what the screen says. */
export function isAsAsked(must: Must, says: ChairSays): boolean {
  switch (must.key) {
    case 'never':
      return !allOf(says).includes(must.value);
    case 'over':
      return / over$/.test(says.when);
    case 'calm':
      return !/ over\b|\+\d/.test([says.when, says.clock, says.watched, says.word].join(' '));
    case 'now':
      return says.when === '';
    default:
      return isSaid(must, says);
  }
}
