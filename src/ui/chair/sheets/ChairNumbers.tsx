import { layoutOf } from '../../../engine/layout.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { extraWords } from '../../../words/chair-sheet-words.ts';
import { namingOf } from '../../shared/arch-model.ts';
import { ExplainedNumber } from '../../shared/ExplainedNumber.tsx';
import { useSession } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { numbersOf } from './chair-numbers-model.ts';

/** The computed numbers behind the step at hand, each opened to its formula, inputs and source. */
export function ChairNumbers({ running }: { readonly running: RunningCase }) {
  const session = useSession();
  // Worked out once for each case.
  const { value: all = [] } = useLoaded(() => session.explainPlan(), [session, running.caseId]);
  const { subjects } = layoutOf(running.log.state);
  const naming = namingOf(running);
  const top = running.view.attention.inHand;
  const open = running.view.clocks.filter((c) => c.kind === 'window').map((c) => c.of);
  const own = top?.subjects ?? [];
  const units = [...own, ...own.flatMap((s) => subjects.linked(s, 'unit'))];
  const numbers = top
    ? numbersOf({ all, protocol: naming.protocol, step: top.step, units, open })
    : [];
  if (numbers.length === 0) return null;
  return (
    <section aria-label={extraWords.numbers}>
      <h3>{extraWords.numbers}</h3>
      {numbers.map((e) => (
        <ExplainedNumber key={`${e.id} ${e.formula}`} e={e} naming={naming} />
      ))}
    </section>
  );
}
