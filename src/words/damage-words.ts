/** What is missing of the records, in sentences. */
import { damage } from './en/damage.ts';
import { spoken } from './language.ts';

export const damageWords = spoken('damage', damage);

/** As the journal tells it: how many entries a case had, has in order, and keeps apart. */
interface CaseDamage {
  readonly title: string;
  readonly chartRef: string;
  readonly known: number;
  readonly left: number;
  readonly apart: number;
}

interface Damage {
  readonly cases: readonly CaseDamage[];
  readonly unnamed: number;
  readonly unreadable: number;
}

/** Cases that are named at once; all of them are in the list of cases. */
const NAMED_MAX = 3;

/** What is missing of one case, with its name. */
export function caseDamageWords(of: CaseDamage): string {
  const { title, known, left, apart } = of;
  const name = title === '' ? damageWords.caseUnnamed : damageWords.caseName(of);
  const counted = { name, known, left, apart, missing: Math.max(0, known - left - apart) };
  if (left + apart === 0) return damageWords.allMissing(counted);
  if (counted.missing === 0) return damageWords.onlyApart(counted);
  const missing = damageWords.someMissing(counted);
  return apart === 0 ? missing : `${missing} ${damageWords.alsoApart(counted)}`;
}

/** Everything that is missing, a sentence each. */
export function damageLines({ cases, unnamed, unreadable }: Damage): readonly string[] {
  const more = cases.length - NAMED_MAX;
  return [
    ...cases.slice(0, NAMED_MAX).map(caseDamageWords),
    ...(more > 0 ? [damageWords.moreCases(more)] : []),
    ...(unnamed > 0 ? [damageWords.unnamed(unnamed)] : []),
    ...(unreadable > 0 ? [damageWords.unreadable(unreadable)] : []),
  ];
}
