import { useState } from 'react';
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import { isSamePair, type Pair } from '../../drill/pair.ts';
import type { KeptDrill } from '../../runtime/drills/drill-document.ts';
import type { Drills } from '../../runtime/drills/drills.ts';
import { drillWords } from '../../words/drill-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { DrillsLoaded } from './DrillsLoaded.tsx';
import { NOBODY, PairFields, pairWords } from './PairFields.tsx';

/** Who did the drill. The names stand there for those who sit there still; whoever reads it later sees none. */
export function DebriefWho({ kept }: { readonly kept: KeptDrill }) {
  const session = useSession();
  const drills = useLoaded(() => session.drills(), [session]);
  const { pair } = drillWords;
  return (
    <Section title={pair.did} lede={pair.didLede}>
      <DrillsLoaded loaded={drills}>{(value) => <Who drills={value} kept={kept} />}</DrillsLoaded>
    </Section>
  );
}

type Said = Pair | 'nobody' | 'others' | 'too-long' | 'not-kept';

function Who({ drills, kept }: { readonly drills: Drills; readonly kept: KeptDrill }) {
  const isReader = useApp((s) => s.standing !== 'writer');
  const own = kept.pair !== undefined && isSamePair(kept.pair, drills.pair) ? kept.pair : null;
  const [names, setNames] = useState<Pair>(own ?? NOBODY);
  const [said, setSaid] = useState<Said>(own ?? (kept.pair === undefined ? 'nobody' : 'others'));
  const keep = async (wanted: Pair): Promise<void> => {
    const done = await drills.nameDrill(kept.caseId, wanted);
    if (!done.ok) return setSaid(done.error.code === 'too-long' ? 'too-long' : 'not-kept');
    setNames(done.value ?? NOBODY);
    setSaid(done.value ?? 'nobody');
  };
  const { pair } = drillWords;
  return (
    <div className="drill-questions">
      <p role="status">{saidWords(said)}</p>
      <PairFields
        pair={names}
        labels={{ lead: pair.leads, assists: pair.assists }}
        onChange={setNames}
      />
      <ButtonRow>
        <Button disabled={isReader} onPress={() => void keep(names)}>
          {pair.keep}
        </Button>
        {said !== 'nobody' && (
          <Button disabled={isReader} onPress={() => void keep(NOBODY)}>
            {pair.nobody}
          </Button>
        )}
      </ButtonRow>
    </div>
  );
}

function saidWords(said: Said): string {
  const { pair } = drillWords;
  switch (said) {
    case 'nobody':
      return pair.didNobody;
    case 'others':
      return pair.didOthers;
    case 'too-long':
      return pair.tooLong(NAME_LENGTH_MAX);
    case 'not-kept':
      return pair.notKept;
    default:
      return pair.didKept(pairWords(said));
  }
}
