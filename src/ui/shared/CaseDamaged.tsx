import { caseDamageWords, damageWords } from '../../words/damage-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { useApp } from './session-context.ts';

/** Says on a case itself what it has lost, for as long as it has. */
export function CaseDamaged(o: { readonly caseId: string; readonly goesOn?: boolean }) {
  const found = useApp((s) => s.damage.cases.find((one) => one.caseId === o.caseId));
  if (found === undefined) return null;
  const advice = caseDamageWords(found);
  return (
    <Banner
      tone="broken"
      words={damageWords.ofCase}
      advice={o.goesOn === true ? [advice, damageWords.goesOn].join(' ') : advice}
    />
  );
}
