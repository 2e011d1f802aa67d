import { useState } from 'react';
import type { CaseFile } from '../../protocol/case-types.ts';
import { differingParts } from '../../runtime/library/differing-parts.ts';
import { todayWords } from '../../words/today-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { useSession, useTimes } from '../shared/session-context.ts';

/** Two tablets changed one prepared case and did not know of each other: somebody says which holds. */
export function PreparedTwice(o: {
  readonly spec: CaseFile;
  readonly others: readonly CaseFile[];
}) {
  const session = useSession();
  const [isLost, setLost] = useState(false);
  const keep = async (spec: CaseFile): Promise<void> => {
    // The one shown has the allergies of all; whichever is kept, none is lost by it.
    const { allergies } = o.spec;
    const kept = await session.saveCase(allergies === undefined ? spec : { ...spec, allergies });
    setLost(!kept.ok);
  };
  const times = useTimes();
  const moment = (iso: string): string => (iso === '' ? '' : times.moment(Date.parse(iso)));
  const parts = o.others
    .flatMap((other) => differingParts(o.spec, other))
    .map(({ part, texts }) =>
      part === 'date' && texts !== null
        ? { part, texts: [moment(texts[0]), moment(texts[1])] as const }
        : { part, texts },
    );
  return (
    <Banner
      tone="attention"
      words={todayWords.twice}
      advice={isLost ? todayWords.twiceLost : todayWords.twiceIn(parts)}
      action={
        <ButtonRow>
          <Button onPress={() => void keep(o.spec)}>{todayWords.keepShown}</Button>
          {o.others.map((other, n) => (
            <Button
              key={JSON.stringify(other)}
              name={todayWords.keepOtherName({ title: other.title, n: n + 1 })}
              onPress={() => void keep(other)}
            >
              {todayWords.keepOther}
            </Button>
          ))}
        </ButtonRow>
      }
    />
  );
}
