import { correctionWords } from '../../words/correction-words.ts';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { choicesOf } from '../shared/choices.ts';
import type { Chosen, OtherRow } from './corrections-model.ts';

const WAYS = ['take', 'later'] as const;

/** Changes for which nothing was told, entry by entry: left as they are until somebody takes them. */
export function CorrectionsOthers(props: {
  readonly others: readonly OtherRow[];
  readonly chosen: Chosen;
  readonly onChoose: (chosen: Chosen) => void;
}) {
  const { others, chosen, onChoose } = props;
  if (others.length === 0) return null;
  const count = others.reduce((sum, { changes }) => sum + changes.length, 0);
  const choose = (owner: string, way: 'take' | 'later'): void => {
    const rest = [...chosen.others].filter((other) => other !== owner);
    onChoose({ ...chosen, others: new Set(way === 'take' ? [...rest, owner] : rest) });
  };
  return (
    <Section title={correctionWords.others} lede={correctionWords.othersLede}>
      <Disclosure summary={correctionWords.othersCount(count)}>
        <ul className="desk-list">
          {others.map(({ owner, title, lines }) => (
            <li key={owner} className="desk-row">
              <div>
                <h3>{title}</h3>
                {lines.map((line) => (
                  <p key={line}>{line}</p>
                ))}
              </div>
              <Segmented
                label={correctionWords.answer(title)}
                labelUnseen
                value={chosen.others.has(owner) ? 'take' : 'later'}
                options={choicesOf(WAYS, correctionWords.otherAnswers)}
                onChange={(way) => choose(owner, way)}
              />
            </li>
          ))}
        </ul>
      </Disclosure>
    </Section>
  );
}
