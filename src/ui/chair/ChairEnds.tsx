import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { pressWords } from '../../words/offer-words.ts';
import { Button } from '../parts/Button.tsx';
import { UndoEnd } from '../parts/UndoEnd.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useSession, useTablet } from '../shared/session-context.ts';
import type { SheetName } from './sheets/sheet-name.ts';
import './chair-ends.css';

/** Offered for ten seconds after a press; the session keeps the instant. */
const UNDO_SPAN_MS = 10_000;
const AGO_MS = -5_000;

interface EndsProps {
  readonly running: RunningCase;
  readonly onOpen: (name: SheetName) => void;
}

/** What stands at the end of the bar: the press was earlier, take it back, what went wrong, and everything else. */
export function ChairEnds(o: EndsProps) {
  const tablet = useTablet();
  const ago = () => tablet.door.do({ do: 'retime', byMs: AGO_MS });
  return (
    <div className="chair-ends">
      <Button size="chair" disabled={o.running.undo === null} onPress={ago}>
        {chairWords.fiveAgo}
      </Button>
      <Undo running={o.running} />
      <Presser running={o.running} />
      <WentWrongEnd {...o} />
      <Button size="chair" onPress={() => o.onOpen('more')}>
        {chairWords.more}
      </Button>
    </div>
  );
}

/** On tablets without the height for a row of what is at hand: the way to every way back, always in the same place. */
function WentWrongEnd({ running, onOpen }: EndsProps) {
  if (running.isViewOnly || running.log.state.closed !== null) return null;
  return (
    <div className="chair-ends-wrong">
      <Button size="chair" onPress={() => onOpen('went-wrong')}>
        {chairWords.wentWrong}
      </Button>
    </div>
  );
}

/** Who presses; one tap hands over to the next person of the case. */
function Presser({ running }: { readonly running: RunningCase }) {
  const session = useSession();
  const tablet = useTablet();
  const people = running.log.state.opened.spec.people;
  const at = people.findIndex(({ id }) => id === running.by);
  const next = people[(at + 1) % people.length];
  const now = people[at];
  if (!now || !next || next === now || running.isViewOnly || running.log.state.closed) return null;
  const hand = () => {
    if (tablet.door.accepts('hand-over')) session.setBy(next.id);
  };
  return (
    <Button
      size="chair"
      name={chairWords.handTo({ now: now.label, next: next.label })}
      onPress={hand}
    >
      {chairWords.presses(now.label)}
    </Button>
  );
}

function Undo({ running }: { readonly running: RunningCase }) {
  const tablet = useTablet();
  const remainingMs = running.undo ? running.undo.untilRealMs - tablet.realNowMs() : 0;
  const press = running.undo?.press;
  const events = running.log.records.filter((r) => r.press === press).map((r) => r.event);
  return (
    <UndoEnd
      {...(press === undefined ? {} : { what: pressWords(events, namingOf(running)) })}
      remainingMs={remainingMs}
      spanMs={UNDO_SPAN_MS}
      onUndo={() => tablet.door.do({ do: 'undo' })}
    />
  );
}
