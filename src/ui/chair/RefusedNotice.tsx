import type { Refusal } from '../../engine/commands.ts';
import { chairWords } from '../../words/chair-words.ts';
import { listWords } from '../../words/list-words.ts';
import { refusalWords } from '../../words/refusal-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';

interface Props {
  readonly refusal: Refusal;
  readonly onReason: () => void;
}

/** Why the last press was not taken, and what to do; one tap to say a reason where one is missing. */
export function RefusedNotice({ refusal, onReason }: Props) {
  const { what, todo } = refusalWords(refusal);
  // Of a list that nothing is taken of, the line that is asked for first.
  const line = refusal.code === 'nothing-taken' ? refusal.values['line'] : undefined;
  return (
    <Banner
      tone="attention"
      words={what}
      advice={line === undefined ? todo : listWords.wantsAnswer(String(line))}
      action={
        refusal.code === 'reason-missing' ? (
          <Button size="chair" onPress={onReason}>
            {chairWords.sayWhy}
          </Button>
        ) : undefined
      }
    />
  );
}
