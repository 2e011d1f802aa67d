import type { Problem } from '../../base/problem.ts';
import { openingWords } from '../../words/opening-words.ts';
import { PatientRuns } from './PatientRuns.tsx';

/** Why a case could not be taken up again. */
export function CaseNotOpened(o: { readonly why: Problem; readonly onAgain: () => void }) {
  const { what, todo, where } = openingWords(o.why);
  return (
    <div className="today-refusal" role="alert">
      <p>
        {what} {todo}
      </p>
      {where === 'chair' && <PatientRuns onPutDown={o.onAgain} />}
    </div>
  );
}
