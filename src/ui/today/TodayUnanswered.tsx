import { Link, useLocation } from 'wouter';
import type { CorrectionsOpen } from '../../runtime/session-parts.ts';
import { correctionWords, namedWords, placeWords } from '../../words/correction-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import type { PreparedCard } from '../shared/today-model.ts';

/** Where the clinic lead answers what a template corrects. */
const answersOf = (protocol: string): string => `/lead/corrections/${protocol}`;

/** Why nothing began must not stand below the edge of the screen. */
const intoView = (element: Element | null): void => element?.scrollIntoView?.({ block: 'nearest' });

/** At the first press of Begin: what the clinic lead has not answered, by name, and both ways on. */
export function TodayUnanswered(props: {
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
        <Button onPress={() => navigate(answersOf(protocol))}>{correctionWords.toDesk}</Button>
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

interface Open {
  readonly protocol: string;
  readonly title: string;
  readonly unanswered: CorrectionsOpen['unanswered'];
}

/** Said before anybody presses Begin: a template corrects what is in force here. */
export function UnansweredNotice({ protocol, title, unanswered }: Open) {
  const { corrections } = unanswered;
  return (
    <Banner
      tone="attention"
      words={correctionWords.notice({ count: corrections.length, protocol: title })}
      advice={correctionWords.noticeTodo(namedWords(corrections))}
      action={<Link href={answersOf(protocol)}>{correctionWords.toDesk}</Link>}
    />
  );
}
