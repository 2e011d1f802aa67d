import { Fragment, lazy, useState } from 'react';
import type { Offer } from '../../../engine/view-types.ts';
import { unitSubject } from '../../../protocol/subjects.ts';
import type { Step } from '../../../protocol/types.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { extraWords, sheetWords } from '../../../words/chair-sheet-words.ts';
import { offerIn } from '../../../words/offer-when-words.ts';
import { listTitle, offerWords, stepOf } from '../../../words/offer-words.ts';
import { type CaseNaming, stepTexts } from '../../../words/step-texts.ts';
import { subjectLabel } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Late } from '../../parts/Late.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { namingOf } from '../../shared/arch-model.ts';
import { useSession, useTablet } from '../../shared/session-context.ts';
import { lineTitle } from '../list-model.ts';
import { WipeLock } from '../WipeLock.tsx';
import { BeadSheet, OrderSheet, PeopleSheet, ShadeSheet } from './ChairExtras.tsx';
import { MoreSheet } from './ChairMore.tsx';
import type { SheetName } from './sheet-name.ts';
import { WentWrong } from './WentWrong.tsx';

// Seldom wanted, and not needed to run the clocks: loaded when they are opened.
const ChairNumbers = lazy(async () => ({
  default: (await import('./ChairNumbers.tsx')).ChairNumbers,
}));
const ChairInjection = lazy(async () => ({
  default: (await import('./ChairInjection.tsx')).ChairInjection,
}));
const StopSheet = lazy(async () => ({ default: (await import('./StopSheet.tsx')).StopSheet }));
const NumberingSheet = lazy(async () => ({
  default: (await import('./NumberingSheet.tsx')).NumberingSheet,
}));
const PenGive = lazy(async () => ({ default: (await import('./PenGive.tsx')).PenGive }));
const MaterialsChair = lazy(async () => ({
  default: (await import('../MaterialsChair.tsx')).MaterialsChair,
}));

interface SheetProps {
  readonly running: RunningCase;
  readonly onClose: () => void;
}

/** The sheet that is open over the chair; the clocks run on beneath it. */
export function ChairSheets(
  o: SheetProps & { readonly name: SheetName | null; readonly onOpen: (name: SheetName) => void },
) {
  switch (o.name) {
    case 'more':
      return <MoreSheet {...o} />;
    case 'went-wrong':
      return <WentWrong {...o} />;
    case 'other-steps':
      return <OtherSteps {...o} />;
    case 'note':
      return <NoteSheet {...o} />;
    case 'speed':
      return <SpeedSheet {...o} />;
    case 'materials':
      return (
        <Late>
          <MaterialsChair {...o} />
        </Late>
      );
    case 'anaesthesia':
      return (
        <Late>
          <ChairInjection {...o} />
        </Late>
      );
    case 'pen':
      return (
        <Late>
          <PenGive {...o} />
        </Late>
      );
    case 'wipe':
      return <WipeLock onEnd={o.onClose} />;
    case 'bead':
      return <BeadSheet {...o} />;
    case 'shade':
      return <ShadeSheet {...o} />;
    case 'people':
      return <PeopleSheet {...o} />;
    case 'stop-visit':
      return (
        <Late>
          <StopSheet {...o} />
        </Late>
      );
    case 'numbering':
      return (
        <Late>
          <NumberingSheet {...o} />
        </Late>
      );
    case 'order':
      return <OrderSheet {...o} />;
    case 'aside':
      return <AsideSheet {...o} />;
    case 'reason':
      return <ReasonSheet {...o} />;
    case 'why':
      return <WhySheet {...o} />;
    case null:
      return null;
  }
}

/** "Gel on 12, in 8 s". */
function otherStepWords(offer: Offer, naming: CaseNaming): string {
  const step = offerWords(offer, naming);
  const when = offerIn(offer);
  return when === undefined ? step : sheetWords.stepIn({ step, when });
}

function OtherSteps({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  const [skipping, setSkipping] = useState<Skipped | null>(null);
  const naming = namingOf(running);
  if (skipping) return <SkipSheet running={running} skipped={skipping} onClose={onClose} />;
  const skip = (skipped: Skipped) => (
    <Button
      size="chair"
      rank="quiet"
      name={sheetWords.skipName(stepOf(naming.protocol, skipped.step)?.title ?? '')}
      onPress={() => setSkipping(skipped)}
    >
      {sheetWords.skip}
    </Button>
  );
  return (
    <Sheet open title={sheetWords.otherSteps} onClose={onClose} width="wide">
      <ul className="chair-other-steps">
        {running.view.offers.map((offer) => (
          <Fragment key={offer.id}>
            <li>
              <Button
                size="chair"
                onPress={() => {
                  if (!tablet.door.do({ do: 'press', offer })) onClose();
                }}
              >
                {otherStepWords(offer, naming)}
              </Button>
              {offer.lines === undefined && skip(offer)}
            </li>
            {offer.lines?.map((line) => (
              <li key={`${line.step} ${line.subjects.join(' ')}`}>
                <span>{lineTitle(running, line)}</span>
                {skip(line)}
              </li>
            ))}
          </Fragment>
        ))}
      </ul>
    </Sheet>
  );
}

/** What is skipped: the step of an offer, or one line of a list. */
type Skipped = Pick<Offer, 'step' | 'subjects'>;

function SkipSheet(o: SheetProps & { readonly skipped: Skipped }) {
  const tablet = useTablet();
  const [reason, setReason] = useState('');
  const { step, subjects } = o.skipped;
  const title = stepOf(namingOf(o.running).protocol, step)?.title ?? step;
  return (
    <Sheet open title={sheetWords.skipName(title)} onClose={o.onClose}>
      <TextField label={sheetWords.skipWhy} value={reason} onChange={setReason} />
      <Button
        size="chair"
        rank="grave"
        disabled={reason.trim() === ''}
        onPress={() => {
          if (!tablet.door.do({ do: 'skip', step, subjects, reason })) o.onClose();
        }}
      >
        {sheetWords.skipDo}
      </Button>
    </Sheet>
  );
}

function NoteSheet({ onClose }: SheetProps) {
  const tablet = useTablet();
  const [words, setWords] = useState('');
  return (
    <Sheet open title={sheetWords.noteTitle} onClose={onClose}>
      <TextField label={sheetWords.noteLabel} value={words} onChange={setWords} />
      <Button
        size="chair"
        rank="main"
        disabled={words.trim() === ''}
        onPress={() => {
          if (!tablet.door.do({ do: 'note', words })) onClose();
        }}
      >
        {sheetWords.noteDo}
      </Button>
    </Sheet>
  );
}

const SPEEDS = ['1', '10', '60'] as const;

function SpeedSheet({ running, onClose }: SheetProps) {
  const session = useSession();
  return (
    <Sheet open title={sheetWords.speedTitle} onClose={onClose}>
      <Segmented
        label={sheetWords.speedLabel}
        value={String(running.speed) as '1' | '10' | '60'}
        options={SPEEDS.map((value) => ({ value, label: sheetWords.speed(Number(value)) }))}
        onChange={(value) => session.setSpeed(Number(value) as 1 | 10 | 60)}
      />
    </Sheet>
  );
}

/** A unit that is broken or will not go down: one press ends all that is left of it. */
function AsideSheet({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  const [reason, setReason] = useState('');
  const { spec } = namingOf(running);
  return (
    <Sheet open title={extraWords.aside} onClose={onClose} width="wide">
      <TextField label={extraWords.asideWhy} value={reason} onChange={setReason} />
      <div className="chair-sheet-grid">
        {spec.units.map((unit) => (
          <Button
            key={unit.id}
            size="chair"
            disabled={reason.trim() === ''}
            onPress={() => {
              if (!tablet.door.do({ do: 'set-aside', unit: unit.id, reason })) onClose();
            }}
          >
            {extraWords.asideDo(subjectLabel(unitSubject(unit.id), spec))}
          </Button>
        ))}
      </div>
    </Sheet>
  );
}

/** A hold that people do not wait for: recorded, with the reason, never blocked. */
function ReasonSheet({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  const [reason, setReason] = useState('');
  // What was refused, which need not be what the bar offers.
  const refused = running.refusal?.values;
  const offer = running.view.offers.find(
    (o) => o.step === refused?.['step'] && o.subjects.join(' ') === refused['subjects'],
  );
  return (
    <Sheet open title={extraWords.reason} onClose={onClose}>
      <TextField label={extraWords.reasonLabel} value={reason} onChange={setReason} />
      <Button
        size="chair"
        rank="grave"
        disabled={reason.trim() === '' || offer === undefined}
        onPress={() => {
          if (offer && !tablet.door.do({ do: 'press', offer, reason })) onClose();
        }}
      >
        {extraWords.reasonDo}
      </Button>
    </Sheet>
  );
}

/** Why the present step matters, and its cautions: help where it is needed; of a list, line by line. */
function WhySheet({ running, onClose }: SheetProps) {
  const naming = namingOf(running);
  const top = running.view.attention.inHand;
  const told = (top?.lines ?? (top ? [top] : [])).flatMap(({ step: id, subjects }) => {
    const step = stepOf(naming.protocol, id);
    return step === undefined ? [] : [{ step, subjects }];
  });
  const [first, ...others] = told;
  const isList = top?.kind === 'list';
  const ids = told.flatMap(({ step }) => step.cautions ?? []);
  const cautions = naming.protocol.cautions.filter((c) => ids.includes(c.id));
  const title = isList ? listTitle(top, naming) : first?.step.title;
  const isUntold = others.length === 0 && first?.step.why === undefined && cautions.length === 0;
  return (
    <Sheet open title={title ?? extraWords.why} onClose={onClose}>
      {told.map(({ step, subjects }) => (
        <Reason key={step.id} step={step} subjects={subjects} running={running} isLine={isList} />
      ))}
      {isUntold && <p>{extraWords.noWhy}</p>}
      {cautions.map((c) => (
        <p key={c.id} className="chair-instruction-caution">
          {c.words}
        </p>
      ))}
      <Late>
        <ChairNumbers running={running} />
      </Late>
      <p>{extraWords.govern}</p>
    </Sheet>
  );
}

/** What to do and why, of one step; under its title where it is a line of a list. */
function Reason(o: {
  readonly step: Step;
  readonly subjects: readonly string[];
  readonly running: RunningCase;
  readonly isLine: boolean;
}) {
  const { step } = o;
  const { instruction } = stepTexts(step, o.subjects, namingOf(o.running));
  return (
    <>
      {o.isLine && <h3>{step.title}</h3>}
      {instruction !== undefined && <p className="chair-proposal">{instruction}</p>}
      {step.why !== undefined && <p>{step.why}</p>}
    </>
  );
}
