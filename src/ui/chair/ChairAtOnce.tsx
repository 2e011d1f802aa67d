import type { ReactNode } from 'react';
import { type AtOnce, answersNow, type WayOn } from '../../engine/at-once.ts';
import type { Command } from '../../engine/commands.ts';
import { layoutOf } from '../../engine/layout.ts';
import type { Offer } from '../../engine/view-types.ts';
import { scopeOf } from '../../protocol/subjects.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { atOnceWords } from '../../words/at-hand-words.ts';
import { offerWords } from '../../words/offer-words.ts';
import { subjectLabel } from '../../words/subject-words.ts';
import { Button } from '../parts/Button.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useTablet } from '../shared/session-context.ts';
import './chair-at-hand.css';

interface Props {
  readonly running: RunningCase;
}

interface AtOnceProps extends Props {
  /** What stands there while nothing has to be answered. */
  readonly children?: ReactNode;
}

/** The offer of the picture that a way on presses, so that its words are those of the bar. */
function offered(way: Extract<WayOn, { kind: 'go-on' }>, { view }: RunningCase): Offer | undefined {
  const { kind, step, subjects } = way.offer;
  return view.offers.find(
    (o) => o.kind === kind && o.step === step && o.subjects.join() === subjects.join(),
  );
}

function wordsOf(way: WayOn, running: RunningCase): string {
  const naming = namingOf(running);
  if (way.kind === 'go-on') {
    const offer = offered(way, running);
    return offer === undefined ? way.offer.step : offerWords(offer, naming);
  }
  const [subject] = way.subjects;
  if (subject === undefined || scopeOf(subject) !== 'mix') return way.wayBack.title;
  return atOnceWords.again(subjectLabel(subject, naming.spec));
}

function commandOf(way: WayOn): Command {
  if (way.kind === 'go-on') return { do: 'press', offer: way.offer };
  const { id, mishap, title } = way.wayBack;
  const { subjects } = way;
  return { do: 'take-way-back', wayBack: id, mishap, subjects, reason: title };
}

function Answers({ once, running }: Props & { readonly once: AtOnce }) {
  const tablet = useTablet();
  const { spec } = namingOf(running);
  const subject = subjectLabel(once.subject, spec);
  return (
    <section
      className="chair-alternatives chair-at-once"
      aria-label={atOnceWords.title}
      role="alert"
    >
      <p>
        <StateMark shape="spilled" />
        <strong>{atOnceWords.because[once.because](subject)}</strong>
      </p>
      {once.ways.map((way) => (
        <Button
          key={way.kind === 'go-on' ? way.offer.step : way.wayBack.id}
          size="chair"
          onPress={() => tablet.door.do(commandOf(way))}
        >
          {wordsOf(way, running)}
        </Button>
      ))}
    </section>
  );
}

/** What must be answered at once, with its two likely answers, one tap each. */
export function ChairAtOnce({ running, children }: AtOnceProps) {
  const { state } = running.log;
  const [once] = running.isViewOnly ? [] : answersNow(state, layoutOf(state), running.view.at);
  if (once === undefined) return children;
  return <Answers once={once} running={running} />;
}
