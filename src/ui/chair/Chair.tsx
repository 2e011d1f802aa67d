import { memo, useState } from 'react';
import type { RunningCase } from '../../runtime/app-state.ts';
import { saveFile } from '../../runtime/cases/share.ts';
import { faultWords } from '../../words/app-words.ts';
import { chairWords } from '../../words/chair-words.ts';
import { clockLabel, intervalReason } from '../../words/clock-words.ts';
import { offerIn } from '../../words/offer-when-words.ts';
import { stepOf } from '../../words/offer-words.ts';
import { Arch } from '../parts/Arch.tsx';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { ChairClock } from '../parts/ChairClock.tsx';
import { Late } from '../parts/Late.tsx';
import { StatusRail } from '../parts/StatusRail.tsx';
import { NextLine, PersonTag, StepHeading } from '../parts/StepHeading.tsx';
import { WatchBlock } from '../parts/WatchBlock.tsx';
import { WindowList } from '../parts/WindowList.tsx';
import { archTeeth, namingOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';
import { EmergencyButton } from '../shared/EmergencyButton.tsx';
import { SharingSpot } from '../shared/SharingSpot.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { useWindowTitle } from '../shared/window-title.ts';
import { ChairBar } from './ChairBar.tsx';
import { ChairCues } from './ChairCues.tsx';
import { ChairEmpty } from './ChairEmpty.tsx';
import {
  detailLine,
  headingOf,
  isHandOverAsked,
  nextOffer,
  nextWords,
  ownClock,
  passAt,
  sideClocks,
  watchedClocks,
} from './chair-model.ts';
import {
  AgainstPlan,
  ChairBeside,
  ChairCautions,
  ChairDamage,
  ChairGap,
  ChairInstruction,
  ChairPass,
  ChairSheets,
  ClosedHold,
  HoldNotice,
  LightReason,
  MaterialsNotice,
  PenEnds,
  RefusedNotice,
  SizeNotice,
  TipPlace,
} from './late-parts.ts';
import type { SheetName } from './sheets/sheet-name.ts';
import { useAround } from './use-around.ts';
import './chair.css';

/** The screen that runs a case. Everything on it is drawn from the running case alone. */
export function Chair() {
  useWindowTitle(chairWords.place);
  const running = useApp((s) => s.running);
  return running === null ? <ChairEmpty /> : <RunningChair running={running} />;
}

function RunningChair({ running }: { readonly running: RunningCase }) {
  const [sheet, setSheet] = useState<SheetName | null>(null);
  const around = useAround(running);
  return (
    <main
      className="chair"
      aria-label={chairWords.place}
      data-records={running.log.records.length}
      data-pending={running.pending}
    >
      <SharingSpot />
      <div className="chair-head">
        <ChairStatus running={around} />
        <EmergencyButton />
      </div>
      <section className="chair-now" aria-label={chairWords.now}>
        <Heading running={running} />
        <InHand running={running} />
        <Late>
          <ChairCautions running={running} />
        </Late>
      </section>
      <Around running={around} onSheet={setSheet} />
      <ChairBar running={running} around={around} onOpen={setSheet} />
      {sheet !== null && (
        <Late>
          <ChairSheets
            name={sheet}
            running={running}
            onOpen={setSheet}
            onClose={() => setSheet(null)}
          />
        </Late>
      )}
    </main>
  );
}

/** The clock of what is in hand, or, where it has none, what is to be done. */
function InHand({ running }: { readonly running: RunningCase }) {
  const clock = ownClock(running);
  return (
    <div className="chair-clock">
      {clock ? (
        <ChairClock
          label={clockLabel(clock, namingOf(running))}
          words={passAt(running)}
          reason={intervalReason(clock, running.log.state.gaps)}
          {...clockTimes(clock)}
        />
      ) : (
        <Late>
          <ChairInstruction running={running} />
        </Late>
      )}
      <Late>
        <TipPlace running={running} />
      </Late>
    </div>
  );
}

/** What stands around the clock and the bar; not drawn again as long as its picture is the same. */
const Around = memo(function Around(o: {
  readonly running: RunningCase;
  readonly onSheet: (name: SheetName) => void;
}) {
  const { running, onSheet } = o;
  const side = sideClocks(running);
  const watched = watchedClocks(running);
  const isClosed = running.log.state.closed !== null;
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus. */}
      <section className="chair-side" aria-label={chairWords.clocks} tabIndex={0}>
        {watched.map((clock) => (
          <WatchBlock key={clock.id} clock={clock} />
        ))}
        <Notices running={running} onReason={() => onSheet('reason')} />
        <Late>
          <HoldNotice running={running} />
          <SizeNotice running={running} />
          <MaterialsNotice running={running} onChoose={() => onSheet('materials')} />
        </Late>
        <ChairCues running={running} />
        {/* While a clock runs anywhere, on a tooth too, an empty list must not say that none does. */}
        {isClosed && (
          <Late>
            <ClosedHold running={running} />
          </Late>
        )}
        {(side.length > 0 || (running.view.clocks.length === 0 && !isClosed)) && (
          <WindowList clocks={side} />
        )}
        <Next running={running} />
        <Late>
          <ChairPass running={running} />
          <ChairBeside running={running} onNote={() => onSheet('anaesthesia')} />
          <AgainstPlan running={running} />
        </Late>
      </section>
      <section className="chair-arch" aria-label={chairWords.teeth}>
        <Arch teeth={archTeeth(running)} hideSides />
      </section>
    </>
  );
});

const ChairStatus = memo(function ChairStatus({ running }: { readonly running: RunningCase }) {
  const journal = useApp((s) => s.journal);
  const tablet = useApp((s) => s.tablet);
  const hasLost = useApp((s) => s.damage.cases.some((c) => c.caseId === running.caseId));
  const hasEnds = useApp((s) => s.secondEnds.some((e) => e.caseId === running.caseId));
  const { mode } = running.log.state.opened;
  const { notation } = running.log.state;
  const others = [
    { id: 'numbering', words: chairWords.numberings[notation], good: null },
    ...(journal.copies === 1 ? [{ id: 'copies', words: chairWords.oneCopy, good: false }] : []),
    ...(hasEnds ? [{ id: 'two-ends', words: chairWords.twoEnds, good: false }] : []),
    ...(running.isViewOnly ? [{ id: 'view-only', words: chairWords.viewOnly, good: false }] : []),
  ];
  return (
    <StatusRail
      saved={journal.saved && running.unsaved === 0}
      hasLost={hasLost}
      screenHeld={tablet.screen.state === 'held'}
      soundOn={tablet.sound.state === 'on'}
      {...(mode === 'rehearsal' ? { rehearsalSpeed: running.speed } : {})}
      others={others}
    />
  );
});

function Heading({ running }: { readonly running: RunningCase }) {
  const naming = namingOf(running);
  const top = running.view.attention.inHand;
  // Whose it is: of a list, where all its lines are the same person's.
  const steps = top?.lines ?? (top ? [top] : []);
  const [by, ...others] = new Set(steps.map((o) => stepOf(naming.protocol, o.step)?.by));
  const duty = (by === 'dentist' || by === 'assistant') && others.length === 0 ? by : undefined;
  const { people } = naming.spec;
  const holder = duty && running.log.state.roles[duty];
  const person = people.find((p) => p.id === holder) ?? people.find((p) => p.role === duty);
  return (
    <StepHeading
      {...headingOf(running)}
      detail={detailLine(running)}
      reason={
        top?.surface === undefined ? undefined : (
          <Late>
            <LightReason running={running} />
          </Late>
        )
      }
      person={
        duty ? (
          <PersonTag name={person?.label ?? chairWords.duty[duty]} duty={chairWords.duty[duty]} />
        ) : undefined
      }
    />
  );
}

function Next({ running }: { readonly running: RunningCase }) {
  const next = nextOffer(running.view.offers);
  if (!next) return null;
  return <NextLine words={nextWords(next, namingOf(running))} when={offerIn(next)} />;
}

/** What the app must say about itself: a refused press, a gap, a fault, a second end. */
function Notices(o: { readonly running: RunningCase; readonly onReason: () => void }) {
  const { running } = o;
  const fault = useApp((s) => s.fault);
  const hasLost = useApp((s) => s.damage.cases.some((c) => c.caseId === running.caseId));
  const hasEnds = useApp((s) => s.secondEnds.some((e) => e.caseId === running.caseId));
  return (
    <>
      {fault !== null && (
        <Banner
          tone="broken"
          words={chairWords.fault}
          advice={faultWords({ fault, isReader: running.isViewOnly })}
        />
      )}
      {running.unsaved > 0 && <Unsaved />}
      <Late>{hasLost && <ChairDamage running={running} />}</Late>
      <Late>{hasEnds && <PenEnds running={running} />}</Late>
      <Late>
        {running.refusal !== null && (
          <RefusedNotice refusal={running.refusal} onReason={o.onReason} />
        )}
      </Late>
      <Late>{!isHandOverAsked(running) && <ChairGap running={running} />}</Late>
    </>
  );
}

/** The journal has refused what was pressed: this page holds it alone, and a file can. */
function Unsaved() {
  const session = useSession();
  const save = (): void => {
    const text = session.heldCase();
    if (text === null) return;
    saveFile({ name: 'case-not-saved.json', type: 'application/json', content: text });
  };
  return (
    <Banner
      tone="broken"
      words={chairWords.unsaved}
      advice={chairWords.unsavedAdvice}
      action={
        <Button size="chair" onPress={save}>
          {chairWords.unsavedFile}
        </Button>
      }
    />
  );
}
