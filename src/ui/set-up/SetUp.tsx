import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { holdOf } from '../../engine/follow-on.ts';
import { checkCase } from '../../plan/check-light.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { askedFacts } from '../../protocol/conditions.ts';
import type { Fact } from '../../protocol/facts.ts';
import type { Finding } from '../../protocol/finding.ts';
import { withOwnPaces } from '../../runtime/cases/own-paces.ts';
import { instantOf } from '../../words/date-words.ts';
import { openingTexts } from '../../words/opening-words.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { Banner, EmptyState } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, usePlanner, useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { SetUpCase } from './SetUpCase.tsx';
import { SetUpChoices, SetUpFacts } from './SetUpFacts.tsx';
import { SetUpFits } from './SetUpFits.tsx';
import { SetUpPeople } from './SetUpPeople.tsx';
import { SetUpRemarks, SetUpRoom } from './SetUpRoom.tsx';
import { SetUpTeeth } from './SetUpTeeth.tsx';
import { SetUpUnits } from './SetUpUnits.tsx';
import { faultsOf } from './set-up-checks.ts';
import { type DraftPartProps, useDraft } from './set-up-drafts.ts';
import { type CaseDraft, draftOf, judge, newDraft } from './set-up-model.ts';
import './set-up.css';

const NEW = 'new';
const NO_FACTS: ReadonlySet<Fact> = new Set();
const NO_FAULTS: ReadonlyMap<string, string> = new Map();

/** Prepares a case, or changes one that is prepared. */
export function SetUp({ id }: { readonly id: string | undefined }) {
  const prepared = useApp((s) => s.prepared);
  const spec = prepared.find((c) => c.id === id);
  if (id !== undefined && !spec) {
    return (
      <Frame place="set-up" title={setUpWords.titleEdit}>
        <EmptyState
          words={setUpWords.gone}
          advice={setUpWords.goneTodo}
          action={<Link href="/set-up">{setUpWords.titleNew}</Link>}
        />
      </Frame>
    );
  }
  return <Form key={id ?? NEW} spec={spec} />;
}

function useBegin(spec: CaseFile | undefined): () => CaseDraft {
  const tablet = useTablet();
  const prepared = useApp((s) => s.prepared);
  const notation = useApp((s) => s.settings.notation);
  const times = useTimes();
  if (spec) return () => draftOf(spec, times);
  return () =>
    newDraft({
      id: `case-${tablet.newId()}`,
      notation,
      // Which one comes first in the list says nothing about the case.
      protocol: '',
      like: prepared[0],
    });
}

type Outcome = 'none' | 'faulty' | 'not-writer' | 'unfit';

/** What of a case its protocol is not written for; nothing while either is not known. */
function useFindings(
  draft: CaseDraft,
): { readonly spec: CaseFile; findings: readonly Finding[] } | null {
  const entry = useApp((s) => s.protocols.find((p) => p.protocol.id === draft.protocol));
  const tables = usePlanner()?.tables ?? null;
  const judged = judge(draft, useTimes());
  if (!judged.ok || entry === undefined) return null;
  const spec = judged.value;
  return { spec, findings: checkCase({ spec, protocol: entry.protocol, tables }) };
}

function useSave(kept: ReturnType<typeof useDraft>) {
  const session = useSession();
  const [, navigate] = useLocation();
  const [outcome, setOutcome] = useState<Outcome>('none');
  const tablet = useTablet();
  const times = useTimes();
  const fit = useFindings(kept.draft);
  const isUnfit = fit !== null && fit.findings.length > 0;
  const save = async (o: { readonly isInsisted: boolean }): Promise<void> => {
    const judged = judge(kept.draft, times);
    if (!judged.ok || faultsOf(kept.draft, { times, nowMs: tablet.wallNowMs() }).size > 0) {
      setOutcome('faulty');
      // The form is longer than the screen: what is asked for comes into sight.
      requestAnimationFrame(() => document.querySelector('.lw-field-problem')?.scrollIntoView?.());
      return;
    }
    if (isUnfit && !o.isInsisted) return setOutcome('unfit');
    const saved = await session.saveCase(
      await withOwnPaces(session, judged.value),
      kept.draft.base,
    );
    if (!saved.ok) return setOutcome('not-writer');
    kept.forget();
    navigate('/');
  };
  const remove = async (): Promise<void> => {
    const removed = await session.deletePrepared(kept.draft.id);
    if (!removed.ok) return setOutcome('not-writer');
    kept.forget();
    navigate('/');
  };
  const leave = (): void => {
    kept.forget();
    navigate('/');
  };
  return { outcome, save, remove, leave, unfit: isUnfit && outcome === 'unfit' ? fit : null };
}

function Form({ spec }: { readonly spec: CaseFile | undefined }) {
  const kept = useDraft(spec?.id ?? NEW, useBegin(spec));
  const { outcome, save, remove, leave, unfit } = useSave(kept);
  const { draft, change } = kept;
  const tablet = useTablet();
  const times = useTimes();
  const protocol = useApp((s) =>
    s.protocols.find((p) => p.protocol.id === draft.protocol),
  )?.protocol;
  const asks = protocol === undefined ? NO_FACTS : askedFacts(protocol);
  // Faults are shown once somebody wanted to save the case, and go as soon as they are mended.
  const problems =
    outcome === 'faulty' ? faultsOf(draft, { times, nowMs: tablet.wallNowMs() }) : NO_FAULTS;
  const parts: DraftPartProps = { draft, change, problemAt: (place) => problems.get(place) };
  return (
    <Frame
      place="set-up"
      title={spec ? setUpWords.titleEdit : setUpWords.titleNew}
      lede={setUpWords.lede}
    >
      <form
        className="set-up"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          void save({ isInsisted: false });
        }}
      >
        <SetUpTeeth {...parts} />
        <SetUpUnits {...parts} asks={asks} />
        <SetUpFacts {...parts} protocol={protocol} />
        <SetUpCase {...parts} />
        <SetUpChoices {...parts} protocol={protocol && toldProtocol(protocol)} />
        <SetUpPeople {...parts} />
        <SetUpRoom {...parts} />
        <SetUpRemarks {...parts} />
        <div className="set-up-foot">
          <WithinHold draft={draft} />
          <Outcome outcome={problems.size === 0 && outcome === 'faulty' ? 'none' : outcome} />
          {unfit !== null && (
            <SetUpFits {...unfit} onInsist={() => void save({ isInsisted: true })} />
          )}
          {problems.has('case') && <p role="alert">{problems.get('case')}</p>}
          <ButtonRow>
            <Button rank="main" type="submit">
              {setUpWords.save}
            </Button>
            <Button onPress={leave}>{setUpWords.leave}</Button>
          </ButtonRow>
        </div>
      </form>
      {spec && (
        <div>
          <Button rank="grave" onPress={() => void remove()}>
            {setUpWords.remove}
          </Button>
        </div>
      )}
    </Frame>
  );
}

/** A finishing visit with an appointment that lies within the hold: until when that runs. */
function WithinHold({ draft }: { readonly draft: CaseDraft }) {
  const spec = useFindings(draft)?.spec;
  const protocol = useApp((s) => s.protocols.find((p) => p.protocol.id === spec?.protocol));
  const times = useTimes();
  const at = instantOf(spec?.scheduledFor);
  if (spec === undefined || protocol === undefined || at === null) return null;
  const endsMs = holdOf(spec, protocol.protocol)?.endsMs ?? 0;
  if (endsMs <= at) return null;
  const words = openingTexts.holdRuns(times.whenInLine(endsMs, { nowMs: 0 }));
  return <Banner tone="attention" words={words} advice={openingTexts.holdRunsTodo} />;
}

function Outcome({ outcome }: { readonly outcome: Outcome }) {
  if (outcome === 'faulty') {
    return <Banner tone="attention" words={setUpWords.notSaved} advice={setUpWords.notSavedTodo} />;
  }
  if (outcome === 'not-writer') {
    return (
      <Banner tone="attention" words={setUpWords.notWriter} advice={setUpWords.notWriterTodo} />
    );
  }
  return null;
}
