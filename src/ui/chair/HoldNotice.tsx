import { MS_PER_MINUTE } from '../../base/units.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { besideWords } from '../../words/beside-words.ts';
import type { Times } from '../../words/date-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { WindowList } from '../parts/WindowList.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { contactsClosedUntilMs, holdTold, visitStays } from './hold-model.ts';

/** Named by its day, because a chair that is left open may be read on the next: "Tue 1 Dec, 14:05". */
const dayAndTime = (times: Times, ms: number): string =>
  // A begun minute counts: whoever waits for the time that is told has waited long enough.
  times.when(Math.ceil(ms / MS_PER_MINUTE) * MS_PER_MINUTE, { nowMs: 0 });

interface Props {
  readonly running: RunningCase;
}

/** Until when the hold of the earlier visit runs: before anything is done, and at what it protects. */
export function HoldNotice({ running }: Props) {
  const times = useTimes();
  const stays = useApp((s) => visitStays(running, s.prepared));
  const told = holdTold(running);
  if (stays) return <Banner tone="plain" words={besideWords.visitStays} />;
  if (told === null) return null;
  const until = dayAndTime(times, told.untilMs);
  const isAtStep = told.at === 'step';
  return (
    <Banner
      tone="attention"
      words={isAtStep ? besideWords.holdProtects(until) : besideWords.holdRuns(until)}
      advice={
        isAtStep
          ? besideWords.holdAsks(told.titles.join(', '))
          : besideWords.holdLeaves(told.titles)
      }
    />
  );
}

/** On the closed chair no clock is drawn; what goes on is that the contacts stay closed. */
export function ClosedHold({ running }: Props) {
  const times = useTimes();
  const untilMs = contactsClosedUntilMs(
    running,
    useApp((s) => s.protocols),
  );
  if (untilMs === null) return <WindowList clocks={[]} />;
  return (
    <p className="chair-beside">
      <strong>{besideWords.contactsStay(dayAndTime(times, untilMs))}</strong>
    </p>
  );
}
