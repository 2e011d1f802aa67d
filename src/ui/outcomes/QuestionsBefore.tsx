import type { Question, Reviews } from '../../outcomes/review-types.ts';
import { groupWords } from '../../words/outcome-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';

type Told = (asked: Question) => string;

/** Questions of tablets that did not know of each other; one of them is fixed once more, as it stands. */
export function QuestionsDiffer(o: {
  readonly differing: Reviews['differing'];
  readonly told: Told;
  /** Null where nothing can be fixed. */
  readonly onTake: ((asked: Omit<Question, 'onDay'>) => void) | null;
}) {
  const { differing, told, onTake } = o;
  return (
    <>
      <p>{groupWords.questionDiffers}</p>
      <ul className="outcomes-lines">
        {differing.map((side) => {
          const { id, by: _by, atWallMs: _at, onDay: _day, ...asked } = side;
          return (
            <li key={id}>
              {told(side)}{' '}
              <Button
                name={groupWords.questionTakeName(told(side))}
                disabled={onTake === null}
                onPress={() => onTake?.(asked)}
              >
                {groupWords.questionTake}
              </Button>
            </li>
          );
        })}
      </ul>
    </>
  );
}

/** What was asked before. */
export function QuestionsEarlier(o: { readonly earlier: Reviews['earlier']; readonly told: Told }) {
  if (o.earlier.length === 0) return null;
  return (
    <Disclosure summary={groupWords.questionEarlier}>
      <ul className="outcomes-lines">
        {o.earlier.map((asked) => (
          <li key={asked.id}>{o.told(asked)}</li>
        ))}
      </ul>
    </Disclosure>
  );
}
