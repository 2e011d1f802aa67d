import type { RecordFacts } from '../../../export/record-types.ts';
import { secondEndHead, secondEndLines, tabletLines } from '../../../export/tablets-words.ts';
import type { Times } from '../../../words/date-words.ts';
import { penRecordWords } from '../../../words/pen-record-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { wallOf } from './record-frame.ts';

/** On which tablet each part was pressed, and what is kept apart; nothing where one tablet pressed all. */
export function RecordTablets({
  facts,
  times,
}: {
  readonly facts: RecordFacts;
  readonly times: Times;
}) {
  const { tablets = [], secondEnds = [] } = facts;
  const tell = ({ pressedUtc }: { readonly pressedUtc: string }): string =>
    times.second(wallOf(pressedUtc));
  return (
    <>
      {tablets.length > 0 && (
        <Section title={penRecordWords.title}>
          <ul className="record-tablets">
            {tabletLines(facts, tell).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </Section>
      )}
      {secondEnds.map((end) => {
        const [head = '', ...advice] = secondEndHead(end, tell);
        return (
          <Section key={`${end.tablet} ${end.common}`} title={penRecordWords.secondEnds}>
            <Banner tone="broken" words={head} advice={advice.join(' ')} />
            <Disclosure summary={penRecordWords.whatWasPressed}>
              <ol>
                {secondEndLines(end, tell).map((line) => (
                  <li key={line}>{line}</li>
                ))}
              </ol>
            </Disclosure>
          </Section>
        );
      })}
    </>
  );
}
