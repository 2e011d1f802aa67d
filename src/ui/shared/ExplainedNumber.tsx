import type { Explanation } from '../../plan/explanation.ts';
import { explainedLineWords } from '../../words/explained-line-words.ts';
import {
  decidedWords,
  explainedValue,
  explainedWhat,
  formulaWords,
  inputsTold,
  planWords,
} from '../../words/plan-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { Disclosure } from '../parts/Facts.tsx';

/** One computed number, opened to its formula, inputs and source. */
export function ExplainedNumber({
  e,
  naming,
}: {
  readonly e: Explanation;
  readonly naming: CaseNaming;
}) {
  return (
    <Disclosure
      summary={explainedLineWords.explained({
        what: explainedWhat(e, naming),
        value: explainedValue(e),
      })}
    >
      <p>{formulaWords(e)}</p>
      <dl className="plan-inputs">
        {inputsTold(e, naming).map(({ id, name, value }) => (
          <div key={id}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p>{decidedWords(e)}</p>
      <p>{explainedLineWords.source(e.source)}</p>
      <p>{planWords.govern}</p>
    </Disclosure>
  );
}
