import type { ReactNode } from 'react';
import { commandOf } from '../../engine/at-once.ts';
import type { AtOnce } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { atOnceWords } from '../../words/at-hand-words.ts';
import { chairWords } from '../../words/chair-words.ts';
import { subjectLabel } from '../../words/subject-words.ts';
import { Button } from '../parts/Button.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useTablet } from '../shared/session-context.ts';
import { wayWords } from './chair-model.ts';
import type { SheetName } from './sheets/sheet-name.ts';
import './chair-at-hand.css';

interface Props {
  readonly running: RunningCase;
  /** Opens the list of all that may have gone wrong. */
  readonly onOpen: (name: SheetName) => void;
}

interface AtOnceProps extends Props {
  /** What stands there while nothing has to be answered. */
  readonly children?: ReactNode;
}

function Answers({ once, running, onOpen }: Props & { readonly once: AtOnce }) {
  const tablet = useTablet();
  const naming = namingOf(running);
  const subject = subjectLabel(once.subject, naming.spec);
  // The bar says the first.
  const others = once.ways.slice(1);
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
      {others.map((way) => (
        <Button
          key={way.kind === 'go-on' ? way.offer.id : `${way.wayBack.id} ${way.done?.length}`}
          size="chair"
          onPress={() => tablet.door.do(commandOf(way))}
        >
          {wayWords(way, naming)}
        </Button>
      ))}
      <div className="chair-wrong-here">
        <Button size="chair" onPress={() => onOpen('went-wrong')}>
          {chairWords.wentWrong}
        </Button>
      </div>
    </section>
  );
}

/** What must be answered at once; the bar below says the likeliest answer, the other is one tap here. */
export function ChairAtOnce({ running, onOpen, children }: AtOnceProps) {
  const { asked } = running.view.attention;
  if (asked === null || running.isViewOnly) return children;
  return <Answers once={asked} running={running} onOpen={onOpen} />;
}
