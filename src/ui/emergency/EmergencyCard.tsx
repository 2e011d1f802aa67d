import { CALL_LINE } from '../../engine/emergency-cards.ts';
import type { Emergencies } from '../../runtime/emergency/emergencies.ts';
import type { OpenCard } from '../../runtime/emergency/emergency-state.ts';
import { formatClockInterval } from '../../words/duration.ts';
import { emergencyWords } from '../../words/emergency-words.ts';
import { useApp } from '../shared/session-context.ts';
import { cardModel, type LineModel } from './emergency-model.ts';

interface CardProps {
  readonly open: OpenCard;
  readonly cards: Emergencies;
}

/** One card: the number and the clinic's own protocol first, then its lines with their clocks. */
export function EmergencyCard({ open, cards }: CardProps) {
  const card = emergencyWords.cards[open.card];
  const poison = useApp((s) => s.settings.poisonNumber);
  return (
    <article className="emergency-card">
      <First open={open} cards={cards} />
      <ol className="emergency-lines">
        {cardModel(open, (stamp) => cards.since(stamp)).map((line) => (
          <Line
            key={line.id}
            line={line}
            poison={line.asksPoisonCentre && poison !== '' ? poison : null}
            onTick={() => cards.tick(open.card, line.id)}
          />
        ))}
      </ol>
      <footer className="emergency-quiet">
        {'why' in card && <p>{card.why}</p>}
        <p>{emergencyWords.sourceOf(card.source)}</p>
        <p>{emergencyWords.govern}</p>
        <p>{cards.isRecorded(open) ? emergencyWords.recorded : emergencyWords.notRecorded}</p>
      </footer>
    </article>
  );
}

/** A number that is not set is said as large as one that is. */
function First({ open, cards }: CardProps) {
  const number = useApp((s) => s.settings.emergencyNumber);
  const protocol = useApp((s) => s.settings.emergencyProtocol);
  const called = open.done.findLast((d) => d.line === CALL_LINE);
  const since = called === undefined ? null : cards.since(called.stamp);
  return (
    <section className="emergency-first" aria-label={emergencyWords.number}>
      <div className="emergency-number">
        {number === '' ? (
          <p>
            <strong>{emergencyWords.noNumber}</strong>
            <span>{emergencyWords.noNumberTodo}</span>
          </p>
        ) : (
          <p>
            <span>{emergencyWords.number}</span>
            <strong>{number}</strong>
          </p>
        )}
        <button
          type="button"
          className="emergency-tick"
          data-done={called !== undefined}
          onClick={() => cards.tick(open.card)}
        >
          {since === null
            ? emergencyWords.called
            : emergencyWords.calledAgo(formatClockInterval(since))}
        </button>
      </div>
      <p className="emergency-protocol">
        <span>{emergencyWords.protocol}</span>
        {protocol === '' ? emergencyWords.noProtocol : protocol}
      </p>
    </section>
  );
}

function Line(props: {
  readonly line: LineModel;
  readonly poison: string | null;
  readonly onTick: () => void;
}) {
  const { line, poison } = props;
  return (
    <li className="emergency-line" data-done={line.isDone} data-passed={line.isPassed}>
      <div>
        <p className="emergency-words">{line.words}</p>
        {poison !== null && <p className="emergency-words">{emergencyWords.poison(poison)}</p>}
        {(line.figure !== null || line.notes.length > 0) && (
          <p className="emergency-notes">
            {line.figure !== null && (
              <span className="emergency-line-figure">{emergencyWords.elapsed(line.figure)}</span>
            )}
            {line.notes.map((note) => (
              <span key={note}>{note}</span>
            ))}
          </p>
        )}
      </div>
      {line.press !== null && (
        <button
          type="button"
          className="emergency-tick"
          aria-label={emergencyWords.pressName({ press: line.press, line: line.words })}
          onClick={props.onTick}
        >
          {line.press}
        </button>
      )}
    </li>
  );
}
