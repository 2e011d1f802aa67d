import type { RecordSource } from '../../../export/export-source.ts';
import { anchorageLines, tellingOf } from '../../../export/export-words.ts';
import type { RecordFacts } from '../../../export/record-types.ts';
import { recordWords } from '../../../words/record-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Facts } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { type CaseReading, chainModel } from './chain-model.ts';
import { RecordApart } from './RecordApart.tsx';

/** How the hash chain stands; what was set apart is shown as it was found. */
export function RecordChain(o: {
  readonly reading: CaseReading;
  readonly anchor: RecordSource['anchor'];
  readonly record: RecordFacts;
}) {
  const { reading, anchor, record } = o;
  const chain = chainModel(reading, anchor);
  const anchorage = anchorageLines(record.chain, tellingOf(record));
  return (
    <Section title={recordWords.verification}>
      {!chain.isWhole && <Banner tone="broken" words={chain.words} advice={chain.todo} />}
      <Facts
        facts={[
          { id: 'chain', label: recordWords.chain, value: chain.words },
          { id: 'head', label: recordWords.head, value: <code>{chain.head}</code> },
          ...(chain.anchor === null
            ? []
            : [
                {
                  id: 'anchor',
                  label: recordWords.anchor,
                  value: <code>{chain.anchor.text}</code>,
                  note: chain.anchor.note,
                },
              ]),
          ...anchorage.map((value) => ({
            id: 'anchorage',
            label: recordWords.anchorage,
            value,
          })),
        ]}
      />
      <RecordApart contents={reading.apart} />
      <p className="record-govern">{recordWords.govern}</p>
    </Section>
  );
}
