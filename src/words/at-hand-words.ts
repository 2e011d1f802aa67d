import { atHand, atOnce } from './en/at-hand.ts';
import { spoken } from './language.ts';

/** Words for what is one tap away while cement is out. */
export const atHandWords = spoken('atHand', atHand);

/** Words for what must be answered at once. */
export const atOnceWords = spoken('atOnce', atOnce);
