import { isExact } from '../../engine/axis.ts';
import { isInDoubt } from '../../engine/cues.ts';
import type { Cue, CueKind } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { cueWords } from '../../words/clock-words.ts';
import { subjectsLabel } from '../../words/subject-words.ts';
import { type CueKind as CardKind, CueCard, CueStack } from '../parts/CueCard.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useTablet } from '../shared/session-context.ts';

/** Cards for what is closing, over or outside its window; "now" is what the bar already says. */
const CARD: Readonly<Record<CueKind, CardKind | null>> = {
  nearing: null,
  now: null,
  over: 'over',
  'window-closing': 'closing',
  'window-broken': 'broken',
};

const MOST = 4;

/** Past dues that nobody has seen yet; a broken window replaces its closing. */
function standingCues(cues: readonly Cue[]): Cue[] {
  const past = cues.filter((c) => c.dueInMs <= 0 && !c.acknowledged && CARD[c.kind] !== null);
  return past.filter(
    (c) =>
      c.kind !== 'window-closing' ||
      !cues.some((o) => o.clock === c.clock && o.kind === 'window-broken' && o.dueInMs <= 0),
  );
}

export function ChairCues({ running }: { readonly running: RunningCase }) {
  const tablet = useTablet();
  const { spec } = namingOf(running);
  const cues = standingCues(running.view.cues);
  if (cues.length === 0) return null;
  const clockOf = (cue: Cue) => running.view.clocks.find((c) => c.id === cue.clock);
  const titleOf = (cue: Cue) => clockOf(cue)?.title ?? cue.of;
  // Over an interval nobody knows to the second since when it has been so.
  const isTimed = (cue: Cue) => {
    const elapsed = clockOf(cue)?.elapsed;
    return elapsed === undefined || isExact(elapsed);
  };
  return (
    <CueStack>
      {cues.slice(-MOST).map((cue) => (
        <CueCard
          key={cue.id}
          kind={CARD[cue.kind] ?? 'now'}
          words={cueWords(cue.kind, {
            title: titleOf(cue),
            subject: '',
            isInDoubt: isInDoubt(cue, running.view.clocks),
          })}
          subject={subjectsLabel(cue.subjects, spec)}
          ageMs={isTimed(cue) ? -cue.dueInMs : Number.POSITIVE_INFINITY}
          onAcknowledge={
            running.isViewOnly
              ? undefined
              : () => tablet.door.do({ do: 'acknowledge', cue: cue.id })
          }
        />
      ))}
    </CueStack>
  );
}
