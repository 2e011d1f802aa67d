import type { WayBackOffer } from '../engine/ways-back.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { atHand, atOnce } from './en/at-hand.ts';
import { spoken } from './language.ts';
import { subjectLabel } from './subject-words.ts';

/** Words for what is one tap away while cement is out. */
export const atHandWords = spoken('atHand', atHand);

/** Words for what must be answered at once. */
export const atOnceWords = spoken('atOnce', atOnce);

/** "Saliva 12": the mishap and whom it befell; several are named after a tap. */
export function mishapWords({ wayBack, subjects }: WayBackOffer, spec: CaseFile): string {
  const [only, ...others] = subjects;
  const subject = only === undefined || others.length > 0 ? '' : subjectLabel(only, spec);
  return atHandWords.mishap[wayBack.mishap](subject);
}
