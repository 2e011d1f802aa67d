import { MS_PER_SECOND } from '../../base/units.ts';
import type { Command } from '../../engine/commands.ts';
import { unitSubject } from '../../protocol/subjects.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { atHandWords } from '../../words/at-hand-words.ts';
import { extraWords } from '../../words/chair-sheet-words.ts';
import { chairWords } from '../../words/chair-words.ts';
import { formatWords } from '../../words/duration.ts';
import { subjectLabel } from '../../words/subject-words.ts';
import { Button } from '../parts/Button.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useTablet } from '../shared/session-context.ts';
import { atHand, type BeadAtHand } from './at-hand-model.ts';
import { LikelyMishaps } from './LikelyMishaps.tsx';
import { moveEarlier } from './order-model.ts';
import type { SheetName } from './sheets/sheet-name.ts';
import './chair-at-hand.css';

interface Props {
  readonly running: RunningCase;
}

interface AtHandProps extends Props {
  /** Opens a sheet: here the list of all that may have gone wrong. */
  readonly onOpen: (name: SheetName) => void;
}

const FOUND = ['soft', 'stringy', 'firm'] as const;

/** Does one thing for one tap; a glove that bounces does not do it twice. */
function useTap(): (command: Command) => void {
  const tablet = useTablet();
  return (command) => {
    tablet.door.do(command);
  };
}

function Bead({ bead, running }: Props & { readonly bead: BeadAtHand }) {
  const tap = useTap();
  const mix = subjectLabel(bead.mix, namingOf(running).spec);
  // Due at the latest when nobody knows how long ago it was: then there is no span to tell.
  const since = bead.isDue ? '' : formatWords(Math.max(MS_PER_SECOND, bead.sinceMs));
  const waiting = bead.isProbed ? atHandWords.probed : atHandWords.laid;
  return (
    <>
      <p data-due={bead.isDue}>
        <StateMark shape={bead.isDue ? 'full' : 'part'} />
        <span>{bead.isDue ? atHandWords.probeNow(mix) : waiting({ mix, since })}</span>
      </p>
      {FOUND.map((found) => (
        <Button
          key={found}
          size="chair"
          name={atHandWords.found({ mix, found: extraWords.found[found] })}
          onPress={() => tap({ do: 'probe-bead', mix: bead.mix, found })}
        >
          {extraWords.found[found]}
        </Button>
      ))}
    </>
  );
}

/** What went wrong, the likeliest by name; while cement is out the bead and the order; one tap each. */
export function ChairAtHand({ running, onOpen }: AtHandProps) {
  const tap = useTap();
  const hand = atHand(running);
  if (hand === null || running.isViewOnly) return null;
  const { spec } = namingOf(running);
  const { plan } = running.log.state;
  const { beads, isCement, mishaps, swap } = hand;
  const label = (unit: string) => subjectLabel(unitSubject(unit), spec);
  return (
    <section
      className="chair-alternatives chair-at-hand"
      aria-label={atHandWords.title}
      data-spare={!isCement}
    >
      {beads.map((bead) => (
        <Bead key={bead.mix} bead={bead} running={running} />
      ))}
      <LikelyMishaps running={running} mishaps={mishaps} onAsk={() => onOpen('went-wrong')} />
      <div className="chair-wrong-here">
        <Button size="chair" onPress={() => onOpen('went-wrong')}>
          {chairWords.wentWrong}
        </Button>
      </div>
      {swap !== null && (
        <Button
          size="chair"
          onPress={() =>
            tap({
              do: 'change-plan',
              plan: moveEarlier(plan, swap.second),
              reason: atHandWords.swapReason,
            })
          }
        >
          {atHandWords.swap({ first: label(swap.first), second: label(swap.second) })}
        </Button>
      )}
    </section>
  );
}
