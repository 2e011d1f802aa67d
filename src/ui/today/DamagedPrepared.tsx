import { damageWords } from '../../words/damage-words.ts';
import { Banner } from '../parts/Banner.tsx';

/** Prepared cases that no longer make sense are missing below: here they have their names. */
export function DamagedPrepared({ names }: { readonly names: readonly string[] }) {
  return (
    <Banner tone="broken" words={damageWords.prepared(names)} advice={damageWords.preparedTodo} />
  );
}
