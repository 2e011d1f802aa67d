import { useState } from 'react';
import { isSamePair, type Pair, pairKey, pairOf, partnerOf } from '../../drill/pair.ts';
import type { KindStanding } from '../../drill/readiness.ts';
import type { Drills, OwnDrills } from '../../runtime/drills/drills.ts';
import { drillWords } from '../../words/drill-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { DrillsGrid } from './DrillsGrid.tsx';
import { DrillsLoaded } from './DrillsLoaded.tsx';
import { NOBODY, PairFields, pairWords } from './PairFields.tsx';
import { useHeard } from './use-heard.ts';

/** One pair at a time, for those who give their names; both are forgotten with the page. */
export function DrillsOwn() {
  const [names, setNames] = useState<Pair>(NOBODY);
  const [shown, setShown] = useState<Pair | null>(null);
  const [isMissing, setMissing] = useState(false);
  const { pair } = drillWords;
  const show = (): void => {
    const wanted = pairOf(names);
    setMissing(wanted === null || wanted.lead === '');
    if (wanted !== null && wanted.lead !== '') setShown(wanted);
  };
  if (shown !== null) {
    return <Shown key={pairKey(shown)} pair={shown} onPair={setShown} />;
  }
  return (
    <Section title={pair.own} lede={pair.ownStays}>
      <div className="drill-questions">
        <PairFields
          pair={names}
          labels={{ lead: pair.you, assists: pair.other, hint: pair.otherHint }}
          problem={isMissing ? pair.youMissing : undefined}
          onChange={setNames}
        />
        <Button onPress={show}>{pair.show}</Button>
      </div>
    </Section>
  );
}

interface Own {
  readonly drills: Drills;
  readonly standings: readonly KindStanding[];
  readonly own: OwnDrills;
  readonly isSigned: boolean;
}

interface ShownProps {
  /** The first of the two asks. */
  readonly pair: Pair;
  readonly onPair: (pair: Pair | null) => void;
}

function Shown({ pair, onPair }: ShownProps) {
  const session = useSession();
  const [turn, setTurn] = useState(0);
  const heard = useHeard();
  const loaded = useLoaded<Own>(
    async () => {
      const drills = await session.drills();
      const [standings, own, people] = await Promise.all([
        drills.standings(pair),
        drills.own(pair.lead),
        drills.people(),
      ]);
      return { drills, standings, own, isSigned: people.signed !== null };
    },
    [session],
    [turn, heard],
  );
  return (
    <DrillsLoaded loaded={loaded}>
      {(value) => (
        <OfPair {...value} pair={pair} onPair={onPair} onDone={() => setTurn((n) => n + 1)} />
      )}
    </DrillsLoaded>
  );
}

function OfPair({
  drills,
  standings,
  own,
  isSigned,
  pair,
  onPair,
  onDone,
}: Own & ShownProps & { readonly onDone: () => void }) {
  const words = drillWords.pair;
  const others = own.pairs.filter((other) => !isSamePair(other, pair));
  // Who gives one name looks for the pairs, unless drills name nobody else.
  const isGrid = pair.assists !== '' || others.length < own.pairs.length;
  return (
    <>
      {isGrid ? (
        <DrillsGrid standings={standings} title={pairWords(pair)} />
      ) : (
        <Section title={pairWords(pair)}>
          <p>{others.length === 0 ? words.none : words.choose}</p>
        </Section>
      )}
      <div className="drill-words">
        {isGrid && standings.every(({ times }) => times === 0) && <p>{words.none}</p>}
        {isGrid && <p>{drillWords.readiness.howLines[0]}</p>}
        <p>{words.ownStays}</p>
      </div>
      <ButtonRow>
        <Button onPress={() => onPair(null)}>{words.hide}</Button>
      </ButtonRow>
      {others.length > 0 && (
        <Section title={isGrid ? words.withElse : words.with}>
          <ButtonRow>
            {others.map((other) => {
              const partner = partnerOf(pair.lead, other);
              return (
                <Button
                  key={pairKey(other)}
                  onPress={() => onPair({ lead: pair.lead, assists: partner })}
                >
                  {partner === '' ? words.alone : words.withOne(partner)}
                </Button>
              );
            })}
          </ButtonRow>
        </Section>
      )}
      <Sharing drills={drills} own={own} isSigned={isSigned} person={pair.lead} onDone={onDone} />
    </>
  );
}

interface SharingProps {
  readonly drills: Drills;
  readonly own: OwnDrills;
  readonly isSigned: boolean;
  readonly person: string;
  readonly onDone: () => void;
}

/** What others see of the one who asks, and the way out. */
function Sharing({ drills, own, isSigned, person, onDone }: SharingProps) {
  const isReader = useApp((s) => s.standing !== 'writer');
  const [said, setSaid] = useState<string | null>(null);
  const [isSure, setSure] = useState(false);
  const words = drillWords.pair;
  const share = async (isShared: boolean): Promise<void> => {
    const done = await drills.share({ person, isShared });
    setSaid(done.ok ? null : words.notKept);
    onDone();
  };
  const unname = async (): Promise<void> => {
    const done = await drills.unname(person);
    setSure(false);
    setSaid(done.ok ? words.unnamed(done.value) : words.notKept);
    onDone();
  };
  return (
    <Section title={words.share} lede={words.shareWhat}>
      <div className="drill-questions">
        <p role="status">{said ?? (own.isShared ? words.isShared : words.isNotShared)}</p>
        <p>{words.shareKinds(own.kinds.map((kind) => protocolWords.mishaps[kind]))}</p>
        {!isSigned && <p>{words.shareNeeds}</p>}
        <p className="lw-quiet">{words.shareWhere}</p>
        {own.isShared ? (
          <Button disabled={isReader} onPress={() => void share(false)}>
            {words.withdraw}
          </Button>
        ) : (
          <Button disabled={isReader || !isSigned} onPress={() => void share(true)}>
            {words.shareDo}
          </Button>
        )}
        {own.pairs.length > 0 && (
          <>
            <p className="lw-quiet">{words.unnameLede}</p>
            <Button disabled={isReader} onPress={() => (isSure ? void unname() : setSure(true))}>
              {isSure ? words.unnameSure : words.unname}
            </Button>
          </>
        )}
      </div>
    </Section>
  );
}
