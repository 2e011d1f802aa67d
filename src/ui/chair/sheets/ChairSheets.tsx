import { lazy, Suspense, useState } from 'react';
import { layoutOf } from '../../../engine/layout.ts';
import { likelyMishaps } from '../../../engine/likely-mishaps.ts';
import type { Offer } from '../../../engine/view-types.ts';
import { voidedBy, type WayBackOffer, waysBackNow } from '../../../engine/ways-back.ts';
import { unitSubject } from '../../../protocol/subjects.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { extraWords, sheetWords } from '../../../words/chair-sheet-words.ts';
import { offerIn, offerWords, stepOf } from '../../../words/offer-words.ts';
import { type CaseNaming, stepTexts } from '../../../words/step-texts.ts';
import { subjectLabel } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { namingOf } from '../../shared/arch-model.ts';
import { cautionsNamed, shortForms } from '../../shared/cautions-model.ts';
import { ShortCautions } from '../../shared/ShortCautions.tsx';
import { useSession, useTablet } from '../../shared/session-context.ts';
import { WipeLock } from '../WipeLock.tsx';
import { BeadSheet, OrderSheet, PeopleSheet, ShadeSheet } from './ChairExtras.tsx';
import { MoreSheet } from './ChairMore.tsx';
import type { SheetName } from './sheet-name.ts';

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
        <Suspense>
          <MaterialsChair {...o} />
        </Suspense>
      );
    case 'anaesthesia':
      return (
        <Suspense>
          <ChairInjection {...o} />
        </Suspense>
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
        <Suspense>
          <StopSheet {...o} />
        </Suspense>
      );
    case 'numbering':
      return (
        <Suspense>
          <NumberingSheet {...o} />
        </Suspense>
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

function WentWrong({ running, onClose }: SheetProps) {
  const [chosen, setChosen] = useState<WayBackOffer | null>(null);
  const { state } = running.log;
  const layout = layoutOf(state);
  // The likeliest two for what is in hand stand first; each is still offered for everyone it fits.
  const likely = likelyMishaps(state, layout, running.view.attention.inHand);
  const isLikely = ({ wayBack }: WayBackOffer) => likely.some((l) => l.wayBack.id === wayBack.id);
  const offers = waysBackNow(state, layout).toSorted(
    (a, b) => Number(isLikely(b)) - Number(isLikely(a)),
  );
  return (
    <Sheet open title={sheetWords.wentWrong} onClose={onClose} width="wide">
      {offers.length === 0 && <p>{sheetWords.noWayBack}</p>}
      {chosen === null ? (
        <div className="chair-sheet-grid">
          {offers.map((offer) => (
            <Button key={offer.wayBack.id} size="chair" onPress={() => setChosen(offer)}>
              {offer.wayBack.title}
            </Button>
          ))}
        </div>
      ) : (
        <WayBackChoice offer={chosen} running={running} onClose={onClose} />
      )}
    </Sheet>
  );
}

function WayBackChoice(o: SheetProps & { readonly offer: WayBackOffer }) {
  const tablet = useTablet();
  const { wayBack, subjects } = o.offer;
  const { state } = o.running.log;
  const { spec } = namingOf(o.running);
  const layout = layoutOf(state);
  const take = (named: readonly string[]) => {
    const reason = wayBack.title;
    const refused = tablet.door.do({
      do: 'take-way-back',
      wayBack: wayBack.id,
      mishap: wayBack.mishap,
      subjects: named,
      reason,
    });
    if (!refused) o.onClose();
  };
  const count = voidedBy({ state, layout, wayBack, subjects }).length;
  const isOne = wayBack.per === 'case' || subjects.length === 1;
  return (
    <div className="chair-sheet-list">
      <p className="chair-proposal">{wayBack.proposal}</p>
      <ShortCautions lines={shortForms(cautionsNamed(layout.protocol, wayBack.cautions ?? []))} />
      <p>{sheetWords.voids(count)}</p>
      {isOne ? (
        <Button size="chair" rank="main" onPress={() => take(subjects)}>
          {sheetWords.take}
        </Button>
      ) : (
        <>
          <p>{sheetWords.onWhich}</p>
          <div className="chair-sheet-grid">
            {subjects.map((subject) => (
              <Button key={subject} size="chair" onPress={() => take([subject])}>
                {subjectLabel(subject, spec)}
              </Button>
            ))}
            <Button size="chair" rank="main" onPress={() => take(subjects)}>
              {sheetWords.all}
            </Button>
          </div>
        </>
      )}
    </div>
  );
}

/** "Gel on 12, in 8 s". */
function otherStepWords(offer: Offer, naming: CaseNaming): string {
  const step = offerWords(offer, naming);
  const when = offerIn(offer);
  return when === undefined ? step : sheetWords.stepIn({ step, when });
}

function OtherSteps({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  const [skipping, setSkipping] = useState<Offer | null>(null);
  const naming = namingOf(running);
  if (skipping) return <SkipSheet running={running} offer={skipping} onClose={onClose} />;
  return (
    <Sheet open title={sheetWords.otherSteps} onClose={onClose} width="wide">
      <ul className="chair-other-steps">
        {running.view.offers.map((offer) => (
          <li key={offer.id}>
            <Button
              size="chair"
              onPress={() => {
                if (!tablet.door.do({ do: 'press', offer })) onClose();
              }}
            >
              {otherStepWords(offer, naming)}
            </Button>
            <Button
              size="chair"
              rank="quiet"
              name={sheetWords.skipName(stepOf(naming.protocol, offer.step)?.title ?? '')}
              onPress={() => setSkipping(offer)}
            >
              {sheetWords.skip}
            </Button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function SkipSheet(o: SheetProps & { readonly offer: Offer }) {
  const tablet = useTablet();
  const [reason, setReason] = useState('');
  const { step, subjects } = o.offer;
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

/** Why the present step matters, and its cautions: help where it is needed. */
function WhySheet({ running, onClose }: SheetProps) {
  const { protocol } = namingOf(running);
  const top = running.view.attention.inHand;
  const step = top ? stepOf(protocol, top.step) : undefined;
  const texts = step ? stepTexts(step, top?.subjects ?? [], namingOf(running)) : {};
  const cautions = protocol.cautions.filter((c) => step?.cautions?.includes(c.id));
  return (
    <Sheet open title={step?.title ?? extraWords.why} onClose={onClose}>
      {texts.instruction !== undefined && <p className="chair-proposal">{texts.instruction}</p>}
      {step?.why !== undefined && <p>{step.why}</p>}
      {step?.why === undefined && cautions.length === 0 && <p>{extraWords.noWhy}</p>}
      {cautions.map((c) => (
        <p key={c.id} className="chair-instruction-caution">
          {c.words}
        </p>
      ))}
      <Suspense>
        <ChairNumbers running={running} />
      </Suspense>
      <p>{extraWords.govern}</p>
    </Sheet>
  );
}
