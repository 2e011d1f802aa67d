import { useEffect, useRef, useState } from 'react';
import { EMERGENCY_CARDS, type EmergencyCardId } from '../../engine/aside-types.ts';
import type { Emergencies } from '../../runtime/emergency/emergencies.ts';
import type { OpenCard } from '../../runtime/emergency/emergency-state.ts';
import { formatClockInterval } from '../../words/duration.ts';
import { emergencyWords } from '../../words/emergency-words.ts';
import { WindowList } from '../parts/WindowList.tsx';
import { cautionsInHand, shortForms } from '../shared/cautions-model.ts';
import { ShortCautions } from '../shared/ShortCautions.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { EmergencyCard } from './EmergencyCard.tsx';
import { caseClocks } from './emergency-model.ts';
import './emergency.css';

/** Often enough that no figure is a second late, in ms. */
const TICK_MS = 250;

/** The cards of this window, once their code has been read. */
function useEmergencies(): Emergencies | null {
  const session = useSession();
  const [cards, setCards] = useState<Emergencies | null>(null);
  useEffect(() => {
    void session.emergencies().then(setCards);
  }, [session]);
  return cards;
}

/** Draws again while a clock runs. */
function useTick(isOn: boolean): void {
  const [, setCount] = useState(0);
  useEffect(() => {
    if (!isOn) return undefined;
    const timer = setInterval(() => setCount((n) => n + 1), TICK_MS);
    return () => clearInterval(timer);
  }, [isOn]);
}

/** The emergency cards: over whatever stands on the screen, and nothing while none is wanted. */
export function Emergency() {
  const cards = useEmergencies();
  const { shown, open } = useApp((s) => s.emergency);
  useTick(open.length > 0);
  const newest = open.at(-1);
  const span = newest && cards ? formatClockInterval(cards.since(newest.stamp)) : null;
  useEffect(() => {
    cards?.tell(shown === null ? span : null);
  }, [cards, shown, span]);
  if (cards === null || shown === null) return null;
  return <Over key={shown} shown={shown} cards={cards} />;
}

function Over({
  shown,
  cards,
}: {
  readonly shown: EmergencyCardId | 'list';
  readonly cards: Emergencies;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);
  const { open } = useApp((s) => s.emergency);
  useEffect(() => {
    dialog.current?.showModal();
    // On a button, the next step of a pedal would touch it.
    heading.current?.focus();
  }, []);
  const mine = open.find((o) => o.card === shown);
  const title = mine === undefined ? emergencyWords.choose : emergencyWords.cards[mine.card].title;
  return (
    <dialog
      ref={dialog}
      className="emergency"
      aria-labelledby="emergency-title"
      onCancel={(event) => {
        event.preventDefault();
        cards.hide();
      }}
    >
      <header className="emergency-head">
        <h2 id="emergency-title" ref={heading} tabIndex={-1}>
          {title}
        </h2>
        {mine !== undefined && <CardClock open={mine} cards={cards} />}
        <div className="emergency-ends">
          {mine !== undefined && (
            <button type="button" className="emergency-end" onClick={() => cards.end(mine.card)}>
              {emergencyWords.end}
            </button>
          )}
          <button type="button" className="emergency-back" onClick={() => cards.hide()}>
            {mine === undefined ? emergencyWords.backPlain : emergencyWords.back}
          </button>
        </div>
      </header>
      <div className="emergency-body">
        {mine === undefined ? (
          <Choice cards={cards} />
        ) : (
          <EmergencyCard open={mine} cards={cards} />
        )}
        <Beside shown={shown} cards={cards} />
      </div>
    </dialog>
  );
}

function CardButton({
  card,
  cards,
}: {
  readonly card: EmergencyCardId;
  readonly cards: Emergencies;
}) {
  const { open } = useApp((s) => s.emergency);
  const mine = open.find((o) => o.card === card);
  return (
    <button
      type="button"
      className="emergency-choice"
      data-open={mine !== undefined}
      onClick={() => cards.show(card)}
    >
      {emergencyWords.cards[card].title}
      {mine !== undefined && (
        <span>{emergencyWords.isOpen(formatClockInterval(cards.since(mine.stamp)))}</span>
      )}
    </button>
  );
}

/** Counts up from the tap; in sight however far the card is scrolled. */
function CardClock({ open, cards }: { readonly open: OpenCard; readonly cards: Emergencies }) {
  const span = cards.since(open.stamp);
  return (
    <p className="emergency-clock">
      <span className="emergency-figure">{formatClockInterval(span)}</span>
      <span>{emergencyWords.sinceTap}</span>
      {span.byWall && <span className="emergency-quiet">{emergencyWords.byWall}</span>}
    </p>
  );
}

function Choice({ cards }: { readonly cards: Emergencies }) {
  return (
    <div className="emergency-choices">
      {EMERGENCY_CARDS.map((card) => (
        <CardButton key={card} card={card} cards={cards} />
      ))}
    </div>
  );
}

/** The clocks that run on beneath, and the way to another card. */
function Beside({
  shown,
  cards,
}: {
  readonly shown: EmergencyCardId | 'list';
  readonly cards: Emergencies;
}) {
  const running = useApp((s) => s.running);
  const clocks = running === null || running.log.state.closed ? [] : caseClocks(running);
  const others = EMERGENCY_CARDS.filter((card) => card !== shown);
  return (
    <aside className="emergency-beside">
      {clocks.length > 0 && (
        <section>
          <h3>{emergencyWords.caseClocks}</h3>
          <WindowList clocks={clocks} />
          {running !== null && <ShortCautions lines={shortForms(cautionsInHand(running))} />}
        </section>
      )}
      {shown !== 'list' && (
        <section>
          <h3>{emergencyWords.others}</h3>
          <div className="emergency-others">
            {others.map((card) => (
              <CardButton key={card} card={card} cards={cards} />
            ))}
          </div>
        </section>
      )}
    </aside>
  );
}
