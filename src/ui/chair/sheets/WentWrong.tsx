import { useState } from 'react';
import { commandOf } from '../../../engine/at-once.ts';
import { layoutOf } from '../../../engine/layout.ts';
import {
  type WayBackQuestion,
  wayBackQuestion,
  waysBackOffered,
} from '../../../engine/way-back-asked.ts';
import { voidedBy, type WayBackOffer } from '../../../engine/ways-back.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { atHandWords } from '../../../words/at-hand-words.ts';
import { sheetWords } from '../../../words/chair-sheet-words.ts';
import { doneWords } from '../../../words/offer-words.ts';
import { subjectLabel } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { namingOf } from '../../shared/arch-model.ts';
import { cautionsNamed, shortForms } from '../../shared/cautions-model.ts';
import { ShortCautions } from '../../shared/ShortCautions.tsx';
import { useTablet } from '../../shared/session-context.ts';
import { atHand } from '../at-hand-model.ts';
import { LikelyMishaps } from '../LikelyMishaps.tsx';

interface SheetProps {
  readonly running: RunningCase;
  readonly onClose: () => void;
}

/** What may have gone wrong, and the way back of each; asked first where it depends on what nobody pressed. */
export function WentWrong({ running, onClose }: SheetProps) {
  const [chosen, setChosen] = useState<WayBackOffer | null>(null);
  const { state } = running.log;
  const layout = layoutOf(state);
  const likely = atHand(running)?.mishaps ?? [];
  // Below the likeliest each is still offered for everyone it fits.
  const offers = waysBackOffered(state, layout);
  const back = (
    <Button rank="quiet" onPress={() => setChosen(null)}>
      {sheetWords.otherMishap}
    </Button>
  );
  return (
    <Sheet
      open
      title={chosen?.wayBack.title ?? sheetWords.wentWrong}
      onClose={onClose}
      width="wide"
      {...(chosen !== null && { foot: back })}
    >
      {offers.length === 0 && <p>{sheetWords.noWayBack}</p>}
      {chosen === null && likely.length > 0 && (
        <section className="chair-sheet-grid" aria-label={atHandWords.title}>
          <LikelyMishaps running={running} mishaps={likely} onAsk={setChosen} onTaken={onClose} />
        </section>
      )}
      {chosen === null ? (
        <div className="chair-sheet-grid">
          {offers.map((offer) => (
            <Button key={offer.wayBack.id} size="chair" onPress={() => setChosen(offer)}>
              {offer.wayBack.title}
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
  const tablet = useTablet();
  const [question, setQuestion] = useState<WayBackQuestion | null>(null);
  const { wayBack, subjects } = o.offer;
  const { state } = o.running.log;
  const { spec } = namingOf(o.running);
  const layout = layoutOf(state);
  const take = (offer: WayBackOffer, done?: WayBackQuestion['done']) => {
    const said = done === undefined ? {} : { done };
    const refused = tablet.door.do(commandOf({ kind: 'way-back', ...offer, ...said }));
    if (!refused) o.onClose();
  };
  const choose = (named: readonly string[]) => {
    const offer = { wayBack, subjects: named };
    const asked = wayBackQuestion({ state, layout }, offer);
    if (asked === null) take(offer);
    else setQuestion(asked);
  };
  if (question !== null) return <Question {...o} question={question} onAnswer={take} />;
  const count = voidedBy({ state, layout, wayBack, subjects }).length;
  const isOne = wayBack.per === 'case' || subjects.length === 1;
  return (
    <div className="chair-sheet-list">
      <p className="chair-proposal">{wayBack.proposal}</p>
      <ShortCautions lines={shortForms(cautionsNamed(layout.protocol, wayBack.cautions ?? []))} />
      <p>{sheetWords.voids(count)}</p>
      {isOne ? (
        <Button size="chair" rank="main" onPress={() => choose(subjects)}>
          {sheetWords.take}
        </Button>
      ) : (
        <>
          <p>{sheetWords.onWhich}</p>
          <div className="chair-sheet-grid">
            {subjects.map((subject) => (
              <Button key={subject} size="chair" onPress={() => choose([subject])}>
                {subjectLabel(subject, spec)}
              </Button>
            ))}
            <Button size="chair" onPress={() => choose(subjects)}>
              {sheetWords.all}
            </Button>
          </div>
        </>
      )}
    </div>
  );
}

/** Whether it was done, though nobody pressed it: each answer takes a way back of its own. */
function Question(
  o: SheetProps & {
    readonly question: WayBackQuestion;
    readonly onAnswer: (offer: WayBackOffer, done?: WayBackQuestion['done']) => void;
  },
) {
  const { done, yes, no } = o.question;
  return (
    <div className="chair-sheet-list">
      <p className="chair-proposal">{sheetWords.wasDone(doneWords(done, namingOf(o.running)))}</p>
      {no === null && <p>{sheetWords.notDoneNothing}</p>}
      <div className="chair-sheet-grid">
        <Button size="chair" onPress={() => o.onAnswer(yes, done)}>
          {sheetWords.wasDoneYes}
        </Button>
        <Button size="chair" onPress={() => (no === null ? o.onClose() : o.onAnswer(no))}>
          {sheetWords.wasDoneNo}
        </Button>
      </div>
    </div>
  );
}
