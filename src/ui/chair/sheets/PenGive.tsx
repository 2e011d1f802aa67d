import { useState } from 'react';
import type { PenTo } from '../../../runtime/cases/pen-deeds.ts';
import { penWords } from '../../../words/pen-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { heardWords } from '../../shared/pen-model.ts';
import { useApp, useSession, useTablet } from '../../shared/session-context.ts';
import { useWallNow } from '../../shared/use-wall-now.ts';

const ANY = 'any';

/** Gives the running case up: to a tablet of the clinic, or to whoever takes it. */
export function PenGive({ onClose }: { readonly onClose: () => void }) {
  const session = useSession();
  const { door } = useTablet();
  const nowMs = useWallNow();
  const sharing = useApp((s) => s.sharing);
  const [chosen, setChosen] = useState<string>(ANY);
  const [isRefused, setIsRefused] = useState(false);
  // One that was never heard of cannot be meant: under which id it writes is not known here.
  const others = sharing.tablets.flatMap(({ tablet, name, isThis, isEarlier, standing }) =>
    isThis || isEarlier === true || standing !== 'paired' || tablet === undefined
      ? []
      : [{ tablet, name }],
  );
  const one = others.find(({ tablet }) => tablet === chosen);
  const to: PenTo = one ?? { tablet: null, name: '' };
  const give = async (): Promise<void> => {
    if (!door.accepts('give-pen')) return;
    const given = await session.pens.give(to);
    if (given.ok) onClose();
    else setIsRefused(true);
  };
  return (
    <Sheet open title={penWords.giveTitle} onClose={onClose} width="wide">
      <p>{penWords.giveLede}</p>
      {sharing.line !== 'open' && <Banner tone="attention" words={penWords.giveUnsent} />}
      <Segmented
        label={penWords.to}
        value={chosen}
        options={[
          ...others.map(({ tablet, name }) => ({
            value: tablet,
            label: penWords.toOne({ name, heard: heardWords(sharing, tablet, nowMs) }),
          })),
          { value: ANY, label: penWords.whoever },
        ]}
        onChange={setChosen}
      />
      {isRefused && <Banner tone="broken" words={penWords.notGiven} />}
      <Button size="chair" rank="main" onPress={() => void give()}>
        {one ? penWords.giveTo(one.name) : penWords.giveAny}
      </Button>
    </Sheet>
  );
}
