import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import { unreachable } from '../../../base/assert.ts';
import { MS_PER_MINUTE, MS_PER_SECOND } from '../../../base/units.ts';
import type { Pairing, PairingState, TabletRow } from '../../../runtime/sharing/sharing-state.ts';
import { pairProblemWords, sharingWords } from '../../../words/sharing-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button, ButtonRow } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { useTablet } from '../../shared/session-context.ts';
import { codeCharacters, inGroups } from './code-entry.ts';
import { useShared } from './use-sharing.ts';

/** Started minutes, at least one. */
const minutesLeft = (ms: number): number => Math.max(1, Math.ceil(ms / MS_PER_MINUTE));

function Left({ untilWallMs }: { readonly untilWallMs: number }) {
  const tablet = useTablet();
  const read = (): number => minutesLeft(untilWallMs - tablet.wallNowMs());
  const [minutes, setMinutes] = useState(read);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is read comes from these.
  useEffect(() => {
    const timer = setInterval(() => setMinutes(read()), MS_PER_SECOND);
    return () => clearInterval(timer);
  }, [untilWallMs, tablet]);
  return <p className="tablets-left">{sharingWords.left(minutes)}</p>;
}

/** Large and in groups; read out as its characters. */
function Large(o: { readonly text: string; readonly label: string }) {
  return (
    <p className="tablets-large" role="img" aria-label={`${o.label}: ${[...o.text].join(' ')}`}>
      {inGroupsOf(o.text).map((group) => (
        <span key={group.at}>{group.text}</span>
      ))}
    </p>
  );
}

const DIGITS_IN_GROUP = 3;

function inGroupsOf(text: string): readonly { readonly at: number; readonly text: string }[] {
  const isDigits = /^\d{6}$/.test(text);
  const parts = isDigits
    ? [text.slice(0, DIGITS_IN_GROUP), text.slice(DIGITS_IN_GROUP)]
    : inGroups(codeCharacters(text)).split(' ');
  return parts.map((part, at) => ({ at, text: part }));
}

/** A pairing from its code to its end, on either side. */
export function PairingSteps(o: {
  readonly pairing: Pairing;
  readonly onEnd: () => void;
  /** New side: no tablet founded the clinic yet. */
  readonly onFounds?: () => void;
}) {
  const state = useStore(o.pairing.state);
  const { onFounds } = o;
  const founds = state.step === 'done' && state.founds;
  useEffect(() => {
    if (founds) onFounds?.();
  }, [founds, onFounds]);
  return (
    <div className="tablets-pairing" aria-live="polite">
      <Step state={state} pairing={o.pairing} onEnd={o.onEnd} />
    </div>
  );
}

interface StepProps {
  readonly state: PairingState;
  readonly pairing: Pairing;
  readonly onEnd: () => void;
}

function Step(o: StepProps) {
  switch (o.state.step) {
    case 'waiting':
      return <Waiting {...o} />;
    case 'compare':
      return <Compare {...o} />;
    case 'done':
      return <Done {...o} />;
    case 'failed':
      return <Failed {...o} />;
    default:
      return unreachable(o.state.step);
  }
}

function Waiting({ state, onEnd }: StepProps) {
  const isLead = state.side === 'lead';
  return (
    <Section
      title={isLead ? sharingWords.waitingLead : sharingWords.waitingNew}
      lede={isLead ? sharingWords.waitingLeadLede : sharingWords.waitingNewLede}
    >
      {state.code !== null && <Large text={state.code} label={sharingWords.code} />}
      {isLead && <Left untilWallMs={state.untilWallMs} />}
      <div>
        <Button onPress={onEnd}>{sharingWords.stop}</Button>
      </div>
    </Section>
  );
}

/** Of the tablets that belong to the clinic now. */
const isSameName = ({ name, standing, isEarlier }: TabletRow, other: string): boolean =>
  standing === 'paired' && isEarlier !== true && name.toLowerCase() === other.toLowerCase();

function Compare({ state, pairing, onEnd }: StepProps) {
  const [isConfirming, setConfirming] = useState(false);
  const isLead = state.side === 'lead';
  const name = state.name ?? '';
  const isTaken = useShared((s) => s.tablets).some((row) => isLead && isSameName(row, name));
  const confirm = (): void => {
    setConfirming(true);
    void pairing.confirm();
  };
  return (
    <Section
      title={sharingWords.compare}
      lede={isLead ? sharingWords.compareLead(name) : sharingWords.compareNew}
    >
      {isTaken && <p>{sharingWords.compareTaken(name)}</p>}
      {state.digits !== null && <Large text={state.digits} label={sharingWords.digits} />}
      <ButtonRow>
        {isLead && (
          <Button rank="main" size="chair" disabled={isConfirming} onPress={confirm}>
            {sharingWords.same}
          </Button>
        )}
        <Button size="chair" onPress={onEnd}>
          {sharingWords.other}
        </Button>
      </ButtonRow>
      <p role="status">{isConfirming ? sharingWords.confirming : ''}</p>
    </Section>
  );
}

function Done({ state, onEnd }: StepProps) {
  const words =
    state.side === 'lead' ? sharingWords.doneLead(state.name ?? '') : sharingWords.doneNew;
  return (
    <Banner
      tone="plain"
      words={words}
      action={<Button onPress={onEnd}>{sharingWords.close}</Button>}
    />
  );
}

function Failed({ state, onEnd }: StepProps) {
  return (
    <Banner
      tone="attention"
      words={state.side === 'lead' ? sharingWords.failedLead : sharingWords.failed}
      advice={pairProblemWords(state.problem ?? '', state.side)}
      action={<Button onPress={onEnd}>{sharingWords.again}</Button>}
    />
  );
}
