import { stockHistoryWords } from '../../../words/stock-history-words.ts';
import { Section } from '../../parts/Page.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { eventWords } from './history-model.ts';

/** What was done to a box, the last first. */
export function MaterialsHistory({ id }: { readonly id: string }) {
  const { stock } = useSession();
  const times = useTimes();
  const thisTablet = useApp((s) => s.settings.tablet);
  // What is told follows from the facts, which have changed whenever the list has.
  useStock((s) => s.materials);
  return (
    <Section title={stockHistoryWords.title}>
      <ol className="stock-history">
        {stock
          .historyOf(id)
          .toReversed()
          .map((event) => {
            const { deed, done } = eventWords(event, { times, thisTablet });
            return (
              <li key={event.id}>
                <span>{deed}</span>
                <span className="lw-quiet">{done}</span>
              </li>
            );
          })}
      </ol>
    </Section>
  );
}
