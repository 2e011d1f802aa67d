import { useState } from 'react';
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import type { Pair } from '../../drill/pair.ts';
import type { Drills } from '../../runtime/drills/drills.ts';
import { drillWords } from '../../words/drill-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { NOBODY, PairFields, pairWords } from './PairFields.tsx';

/** Who drills in this sitting: shown to be changed, asked by nobody. */
export function PairNow({ drills }: { readonly drills: Drills }) {
  const [named, setNamed] = useState(drills.pair);
  const [names, setNames] = useState<Pair>(named ?? NOBODY);
  const [isLong, setLong] = useState(false);
  const { pair } = drillWords;
  const keep = (wanted: Pair): void => {
    const done = drills.name(wanted);
    setLong(!done.ok);
    if (!done.ok) return;
    setNamed(done.value);
    setNames(done.value ?? NOBODY);
  };
  return (
    <Section title={pair.now} lede={pair.nowLede}>
      <div className="drill-questions">
        <p role="status">{named === null ? pair.nowNobody : pair.nowNamed(pairWords(named))}</p>
        <PairFields
          pair={names}
          labels={{ lead: pair.leads, assists: pair.assists }}
          problem={isLong ? pair.tooLong(NAME_LENGTH_MAX) : undefined}
          onChange={setNames}
        />
        <ButtonRow>
          <Button onPress={() => keep(names)}>{pair.keep}</Button>
          {named !== null && <Button onPress={() => keep(NOBODY)}>{pair.nobody}</Button>}
        </ButtonRow>
      </div>
    </Section>
  );
}
