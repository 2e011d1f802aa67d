import { useState } from 'react';
import { useLocation } from 'wouter';
import { layoutOf } from '../../engine/layout.ts';
import type { Offer } from '../../engine/types.ts';
import { voidedBy, type WayBackOffer, waysBackNow } from '../../engine/ways-back.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { useSession } from '../app/session-context.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { chairWords, MISHAP_WORDS, sheetWords, wipeWords } from '../words/chair-words.ts';
import { offerIn, offerWords, stepOf } from '../words/offer-words.ts';
import { subjectLabel } from '../words/subject-words.ts';
import { sceneOf } from './chair-model.ts';
import { WipeLock } from './WipeLock.tsx';

export type SheetName = 'wipe' | 'more' | 'went-wrong' | 'other-steps' | 'note' | 'speed';

interface SheetProps {
  readonly running: RunningCase;
  readonly onClose: () => void;
}

/** The sheet that is open over the chair; the clocks run on beneath it. */
export function ChairSheets(
  o: SheetProps & { readonly name: SheetName | null; readonly onOpen: (name: SheetName) => void },
) {
  switch (o.name) {
    case 'more':
      return <MoreSheet {...o} />;
    case 'went-wrong':
      return <WentWrong {...o} />;
    case 'other-steps':
      return <OtherSteps {...o} />;
    case 'note':
      return <NoteSheet {...o} />;
    case 'speed':
      return <SpeedSheet {...o} />;
    case 'wipe':
      return <WipeLock onEnd={o.onClose} />;
    case null:
      return null;
  }
}

function MoreSheet(o: SheetProps & { readonly onOpen: (name: SheetName) => void }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const isRehearsal = o.running.log.state.opened.mode === 'rehearsal';
  return (
    <Sheet open title={sheetWords.more} onClose={o.onClose}>
      <div className="chair-sheet-list">
        <Button size="chair" onPress={() => o.onOpen('went-wrong')}>
          {chairWords.wentWrong}
        </Button>
        <Button size="chair" onPress={() => o.onOpen('other-steps')}>
          {chairWords.otherSteps}
        </Button>
        <Button size="chair" onPress={() => o.onOpen('note')}>
          {chairWords.note}
        </Button>
        <Button size="chair" onPress={() => o.onOpen('wipe')}>
          {wipeWords.open}
        </Button>
        {isRehearsal && (
          <Button size="chair" onPress={() => o.onOpen('speed')}>
            {chairWords.speed}
          </Button>
        )}
        <Button
          size="chair"
          rank="quiet"
          onPress={() => {
            session.leaveCase();
            navigate('/');
          }}
        >
          {chairWords.leave}
        </Button>
        <p>{chairWords.leaveNote}</p>
      </div>
    </Sheet>
  );
}

function WentWrong({ running, onClose }: SheetProps) {
  const [chosen, setChosen] = useState<WayBackOffer | null>(null);
  const { state } = running.log;
  const offers = waysBackNow(state, layoutOf(state));
  return (
    <Sheet open title={sheetWords.wentWrong} onClose={onClose} width="wide">
      {offers.length === 0 && <p>{sheetWords.noWayBack}</p>}
      {chosen === null ? (
        <div className="chair-sheet-list">
          {offers.map((offer) => (
            <Button key={offer.wayBack.id} size="chair" onPress={() => setChosen(offer)}>
              {`${MISHAP_WORDS[offer.wayBack.mishap]}: ${offer.wayBack.title}`}
            </Button>
          ))}
        </div>
      ) : (
        <WayBackChoice offer={chosen} running={running} onClose={onClose} />
      )}
    </Sheet>
  );
}

function WayBackChoice(o: SheetProps & { readonly offer: WayBackOffer }) {
  const session = useSession();
  const { wayBack, subjects } = o.offer;
  const { state } = o.running.log;
  const { spec } = sceneOf(o.running);
  const layout = layoutOf(state);
  const take = (named: readonly string[]) => {
    const reason = wayBack.title;
    const refused = session.do({
      do: 'take-way-back',
      wayBack: wayBack.id,
      mishap: wayBack.mishap,
      subjects: named,
      reason,
    });
    if (!refused) o.onClose();
  };
  const count = voidedBy({ state, layout, wayBack, subjects }).length;
  const isOne = wayBack.per === 'case' || subjects.length === 1;
  return (
    <div className="chair-sheet-list">
      <p className="chair-proposal">{wayBack.proposal}</p>
      <p>{sheetWords.voids(count)}</p>
      {isOne ? (
        <Button size="chair" rank="main" onPress={() => take(subjects)}>
          {sheetWords.take}
        </Button>
      ) : (
        <>
          <p>{sheetWords.onWhich}</p>
          <div className="chair-sheet-grid">
            {subjects.map((subject) => (
              <Button key={subject} size="chair" onPress={() => take([subject])}>
                {subjectLabel(subject, spec)}
              </Button>
            ))}
            <Button size="chair" rank="main" onPress={() => take(subjects)}>
              {sheetWords.all}
            </Button>
          </div>
        </>
      )}
    </div>
  );
}

function OtherSteps({ running, onClose }: SheetProps) {
  const session = useSession();
  const [skipping, setSkipping] = useState<Offer | null>(null);
  const scene = sceneOf(running);
  if (skipping) return <SkipSheet running={running} offer={skipping} onClose={onClose} />;
  return (
    <Sheet open title={sheetWords.otherSteps} onClose={onClose} width="wide">
      <ul className="chair-other-steps">
        {running.view.offers.map((offer) => (
          <li key={offer.id}>
            <Button
              size="chair"
              onPress={() => {
                if (!session.do({ do: 'press', offer })) onClose();
              }}
            >
              {[offerWords(offer, scene), offerIn(offer)].filter(Boolean).join(', ')}
            </Button>
            <Button
              size="chair"
              rank="quiet"
              name={`${sheetWords.skip}: ${stepOf(scene.protocol, offer.step)?.title ?? ''}`}
              onPress={() => setSkipping(offer)}
            >
              {sheetWords.skip}
            </Button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function SkipSheet(o: SheetProps & { readonly offer: Offer }) {
  const session = useSession();
  const [reason, setReason] = useState('');
  const { step, subjects } = o.offer;
  const title = stepOf(sceneOf(o.running).protocol, step)?.title ?? step;
  return (
    <Sheet open title={`${sheetWords.skip}: ${title}`} onClose={o.onClose}>
      <TextField label={sheetWords.skipWhy} value={reason} onChange={setReason} />
      <Button
        size="chair"
        rank="grave"
        disabled={reason.trim() === ''}
        onPress={() => {
          if (!session.do({ do: 'skip', step, subjects, reason })) o.onClose();
        }}
      >
        {sheetWords.skipDo}
      </Button>
    </Sheet>
  );
}

function NoteSheet({ onClose }: SheetProps) {
  const session = useSession();
  const [words, setWords] = useState('');
  return (
    <Sheet open title={sheetWords.noteTitle} onClose={onClose}>
      <TextField label={sheetWords.noteLabel} value={words} onChange={setWords} />
      <Button
        size="chair"
        rank="main"
        disabled={words.trim() === ''}
        onPress={() => {
          if (!session.do({ do: 'note', words })) onClose();
        }}
      >
        {sheetWords.noteDo}
      </Button>
    </Sheet>
  );
}

function SpeedSheet({ running, onClose }: SheetProps) {
  const session = useSession();
  return (
    <Sheet open title={sheetWords.speedTitle} onClose={onClose}>
      <Segmented
        label={sheetWords.speedLabel}
        value={String(running.speed) as '1' | '10' | '60'}
        options={[
          { value: '1', label: '1×' },
          { value: '10', label: '10×' },
          { value: '60', label: '60×' },
        ]}
        onChange={(value) => session.setSpeed(Number(value) as 1 | 10 | 60)}
      />
    </Sheet>
  );
}
