import type { FullPlan } from '../../plan/make-plan.ts';
import { besidePlanLines } from '../../words/beside-plan-words.ts';
import { besideWords } from '../../words/beside-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { Section } from '../parts/Page.tsx';

/** When the anaesthesia ends, and when the patient may rest. */
export function PlanBeside({
  plan,
  naming,
}: {
  readonly plan: FullPlan;
  readonly naming: CaseNaming;
}) {
  return (
    <Section title={besideWords.planned.title}>
      {besidePlanLines(plan.timeline, naming).map((line) => (
        <p key={line}>{line}</p>
      ))}
    </Section>
  );
}
