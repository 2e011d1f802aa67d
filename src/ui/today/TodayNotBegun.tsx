import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import type { Refusal } from '../../engine/commands.ts';
import type { CaseBegun, HoldRuns } from '../../runtime/cases/case-opening.ts';
import type { CorrectionsOpen, NotBegun } from '../../runtime/session-parts.ts';
import { correctionWords, namedWords, placeWords } from '../../words/correction-words.ts';
import { openingTexts, openingWords } from '../../words/opening-words.ts';
import { todayWords } from '../../words/today-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { CaseNotOpened } from '../shared/CaseNotOpened.tsx';
import { PatientRuns } from '../shared/PatientRuns.tsx';
import { useSession, useTablet, useTimes } from '../shared/session-context.ts';
import type { PreparedCard } from '../shared/today-model.ts';

/** Why nothing began must not stand below the edge of the screen. */
const intoView = (element: Element | null): void => element?.scrollIntoView?.({ block: 'nearest' });

function Refused(props: {
  readonly why: Refusal | Problem;
  readonly card: PreparedCard;
  readonly onAgain: () => void;
}) {
  const { why, card } = props;
  const [, navigate] = useLocation();
  const { protocol, id } = card.spec;
  const refusal = openingWords(why);
  return (
    <div className="today-refusal" role="alert" ref={intoView}>
      <p>
        <strong>{refusal.what}</strong> {refusal.todo}
      </p>
      {refusal.where === 'protocol' && (
        <Button onPress={() => navigate(`/protocols/${protocol}`)}>
          {openingTexts.openProtocol}
        </Button>
      )}
      {refusal.where === 'chair' && <PatientRuns onPutDown={props.onAgain} />}
      {refusal.where === 'case' && (
        <Button onPress={() => navigate(`/set-up/${id}`)}>{todayWords.change}</Button>
      )}
    </div>
  );
}

/** At the first press of Begin: what the clinic lead has not answered, by name, and both ways on. */
function Unanswered(props: {
  readonly open: CorrectionsOpen;
  readonly card: PreparedCard;
  readonly onBegin: () => void;
}) {
  const [, navigate] = useLocation();
  const { corrections } = props.open.unanswered;
  const { protocol, title } = props.card.spec;
  return (
    <div className="today-refusal" role="alert" ref={intoView}>
      <p>
        <strong>{correctionWords.notBegun({ names: namedWords(corrections) })}</strong>{' '}
        {correctionWords.notBegunTodo}
      </p>
      <ButtonRow>
        <Button onPress={() => navigate(`/lead/corrections/${protocol}`)}>
          {correctionWords.toDesk}
        </Button>
        <Button onPress={props.onBegin} name={correctionWords.beginAllTheSameName(title)}>
          {correctionWords.beginAllTheSame}
        </Button>
      </ButtonRow>
      <ul className="today-unanswered">
        {corrections.map((correction) => (
          <li key={correction.place}>
            {correctionWords.because({
              what: placeWords(correction),
              reason: correction.reason,
            })}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** At the first press of Begin within the hold: until when it runs, and that people may insist. */
function Held(props: {
  readonly runs: HoldRuns;
  readonly title: string;
  readonly onBegin: () => void;
}) {
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const until = times.whenInLine(props.runs.endsMs, { nowMs: wallNowMs() });
  return (
    <div className="today-refusal" role="alert" ref={intoView}>
      <p>
        <strong>{openingTexts.holdRuns(until)}</strong> {openingTexts.holdRunsTodo}
      </p>
      <Button onPress={props.onBegin} name={correctionWords.beginAllTheSameName(props.title)}>
        {correctionWords.beginAllTheSame}
      </Button>
    </div>
  );
}

/** It was begun already, here or in another window: it is gone on with, or its record is read. */
function Begun({ begun }: { readonly begun: CaseBegun }) {
  const [, navigate] = useLocation();
  const session = useSession();
  const { caseId, isClosed } = begun;
  const [runs, setRuns] = useState<Problem | null>(null);
  const goOn = async () => {
    const resumed = await session.resumeCase(caseId);
    if (resumed.ok) navigate('/chair');
    else setRuns(resumed.error);
  };
  if (runs !== null) return <CaseNotOpened why={runs} onAgain={() => void goOn()} />;
  return (
    <div className="today-refusal" role="alert" ref={intoView}>
      <p>
        <strong>{isClosed ? openingTexts.closedBefore : openingTexts.begunBefore}</strong>
      </p>
      <Button onPress={() => (isClosed ? navigate(`/record/${caseId}`) : void goOn())}>
        {isClosed ? todayWords.toRecord : todayWords.goOn}
      </Button>
    </div>
  );
}

/** What kept a case from beginning, under its buttons. */
export function TodayNotBegun(props: {
  readonly refusal: NotBegun;
  readonly card: PreparedCard;
  readonly onBeginAllTheSame: () => void;
  /** The same again, once what stood in the way is gone. */
  readonly onAgain: () => void;
}) {
  const { refusal, card, onBeginAllTheSame: onBegin } = props;
  if ('endsMs' in refusal) return <Held runs={refusal} title={card.spec.title} onBegin={onBegin} />;
  if ('isClosed' in refusal) return <Begun begun={refusal} />;
  return 'unanswered' in refusal ? (
    <Unanswered open={refusal} card={card} onBegin={onBegin} />
  ) : (
    <Refused why={refusal} card={card} onAgain={props.onAgain} />
  );
}
