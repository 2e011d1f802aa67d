import type { Explanation } from '../../plan/explanation.ts';
import { explainedLineWords } from '../../words/explained-line-words.ts';
import type { CaseNaming } from '../../words/offer-words.ts';
import {
  decidedWords,
  explainedValue,
  explainedWhat,
  formulaWords,
  planWords,
} from '../../words/plan-words.ts';
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
        {Object.entries(e.inputs).map(([key, value]) => (
          <div key={key}>
            <dt>{key}</dt>
            <dd>{String(value)}</dd>
          </div>
        ))}
      </dl>
      <p>{decidedWords(e)}</p>
      <p>{explainedLineWords.source(e.source)}</p>
      <p>{planWords.govern}</p>
    </Disclosure>
  );
}
