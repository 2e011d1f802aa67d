import { useState } from 'react';
import { adopted, computedAgain } from '../../plan/alternatives.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Planning } from '../../runtime/planner/planner.ts';
import { notKeptWords } from '../../words/opening-words.ts';
import { alternativeWords, planWords } from '../../words/plan-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { useSession } from '../shared/session-context.ts';

/** Other ways to do the case, each with its risk and its time; one press takes one over. */
export function PlanAlternatives(o: { readonly planning: Planning; readonly naming: CaseNaming }) {
  const { planning, naming } = o;
  const runs = planning.plan?.risk.options.samples ?? 0;
  const session = useSession();
  const [refused, setRefused] = useState<string | null>(null);
  const keep = async (spec: CaseFile) => {
    const shown = session.store.getState().prepared.find(({ id }) => id === spec.id);
    const kept = await session.saveCase(spec, shown);
    setRefused(kept.ok ? null : notKeptWords(kept.error));
  };
  return (
    <>
      {refused !== null && <Banner tone="attention" words={planWords.notKept} advice={refused} />}
      {planning.alternatives.length === 0 && planning.left === 0 && <p>{planWords.noOther}</p>}
      <ul className="plan-alternatives">
        {planning.alternatives.map((a) => {
          const words = alternativeWords(a, { naming, runs });
          return (
            <li key={a.id} data-planned={a.isPlanned} data-kept={a.canBeKept}>
              <Button
                on={a.isPlanned}
                name={a.isPlanned ? planWords.nameOfPlanned(words) : planWords.nameOfUse(words)}
                onPress={() => a.isPlanned || void keep(adopted(naming.spec, a))}
              >
                {a.isPlanned ? planWords.planned : planWords.use}
              </Button>
              <span>{words}</span>
            </li>
          );
        })}
      </ul>
      {naming.spec.groups !== undefined && (
        <Button rank="quiet" onPress={() => void keep(computedAgain(naming.spec))}>
          {planWords.computedAgain}
        </Button>
      )}
    </>
  );
}
