import { jsonText } from '../../../base/json.ts';
import { escapeUnseen } from '../../../base/unseen.ts';
import { recordWords } from '../../../words/record-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Disclosure, Facts } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { type CaseReading, chainModel } from './chain-model.ts';

/** How the hash chain stands; what was set apart is shown as it was found. */
export function RecordChain({ reading }: { readonly reading: CaseReading }) {
  const chain = chainModel(reading);
  const apart = reading.apart.map((entry) => escapeUnseen(jsonText(entry)));
  return (
    <Section title={recordWords.verification}>
      {!chain.isWhole && (
        <Banner tone="broken" words={chain.words} advice={recordWords.chainBadTodo} />
      )}
      <Facts
        facts={[
          { id: 'chain', label: recordWords.chain, value: chain.words },
          { id: 'head', label: recordWords.head, value: <code>{chain.head}</code> },
        ]}
      />
      {apart.length > 0 && (
        <Disclosure summary={recordWords.apartOf(apart.length)}>
          <ol className="record-apart">
            {apart.map((text, n) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: what was set apart has no name but its place.
              <li key={n}>
                <pre>{text}</pre>
              </li>
            ))}
          </ol>
        </Disclosure>
      )}
      <p className="record-govern">{recordWords.govern}</p>
    </Section>
  );
}
