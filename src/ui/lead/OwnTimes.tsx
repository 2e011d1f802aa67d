import { useState } from 'react';
import { useLocation } from 'wouter';
import type { CaseLog } from '../../engine/log.ts';
import { addEdit, type EditHistory } from '../../protocol/edit-history.ts';
import type { Basis, Protocol } from '../../protocol/types.ts';
import {
  ownTimesFrom,
  type ProtocolTimes,
  type StepTimes,
} from '../../runtime/lead/lead-own-times.ts';
import { ownTimesWords } from '../../words/own-times-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { SelectField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useSession, useTimes } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { OwnTimesSteps } from './OwnTimesSteps.tsx';
import { OwnTimesWindows } from './OwnTimesWindows.tsx';
import { useLeadDesk } from './use-lead.ts';

const MODES = ['patient', 'rehearsal'] as const;
type Mode = (typeof MODES)[number];

/** Reads every record of one kind, once. */
function useLogs(mode: Mode): readonly CaseLog[] | null {
  const session = useSession();
  const cases = useApp((s) => s.cases);
  const read = async (signal: AbortSignal): Promise<readonly CaseLog[]> => {
    const found: CaseLog[] = [];
    for (const { caseId } of cases.filter((summary) => summary.mode === mode)) {
      if (signal.aborted) break;
      const one = await session.readCase(caseId);
      if (one.ok) found.push(one.value.log);
    }
    return found;
  };
  return useLoaded(read, [session, mode], [cases]).value ?? null;
}

/** Puts what was found into a draft of the protocol: the one that is open, or a new one. */
function useExpected(protocol: Protocol | undefined, cases: number) {
  const desk = useLeadDesk();
  const times = useTimes();
  const [, navigate] = useLocation();
  return async ({ step, hands }: StepTimes): Promise<void> => {
    if (hands === null || protocol === undefined) return;
    const open = desk.state.getState().drafts.find((d) => d.history.protocol.id === protocol.id);
    const begun = open ? null : await desk.beginDraft(protocol);
    const id = open?.id ?? (begun?.ok ? begun.value : null);
    const draft = desk.state.getState().drafts.find((d) => d.id === id);
    if (draft === undefined) return;
    const on = times.isoDay(desk.nowWallMs());
    const note = ownTimesWords.note({ count: hands.count, cases, on });
    const next = withPace(draft.history, {
      step: step.id,
      hands,
      basis: { kind: 'practice', note },
    });
    if (next === null) return;
    await desk.saveDraft(draft.id, next);
    navigate(`/lead/draft/${draft.id}/effect`);
  };
}

function withPace(
  history: EditHistory,
  o: {
    readonly step: string;
    readonly hands: { readonly medianMs: number; readonly p90Ms: number };
    readonly basis: Basis;
  },
): EditHistory | null {
  // What was recorded is the whole press: no part per subject is added to it.
  const each = { part: 'steps', id: o.step, key: 'pace.perSubjectMs' } as const;
  const step = history.protocol.steps.find(({ id }) => id === o.step);
  const cleared =
    step?.pace.perSubjectMs === undefined ? null : addEdit(history, { do: 'clear', spot: each });
  if (cleared?.ok === false) return null;
  let next = cleared?.value ?? history;
  for (const key of ['medianMs', 'p90Ms'] as const) {
    const spot = { part: 'steps', id: o.step, key: `pace.${key}` } as const;
    const figure = { value: o.hands[key], basis: o.basis };
    const edited = addEdit(next, { do: 'set-figure', spot, figure });
    if (!edited.ok) return null;
    next = edited.value;
  }
  return next;
}

/** How long steps really took here, by person, and which windows were broken. */
export function OwnTimes() {
  const entries = useApp((s) => s.protocols);
  const cases = useApp((s) => s.cases);
  const [mode, setMode] = useState<Mode>(
    cases.some((summary) => summary.mode === 'patient') ? 'patient' : 'rehearsal',
  );
  const [id, setId] = useState(entries[0]?.protocol.id ?? '');
  const logs = useLogs(mode);
  const ran = logs?.at(-1)?.state.opened.protocol.id;
  const chosen =
    id === entries[0]?.protocol.id && ran !== undefined && !hasRun(logs, id) ? ran : id;
  const protocol = entries.find((e) => e.protocol.id === chosen)?.protocol;
  const times = protocol && logs ? ownTimesFrom(protocol, logs) : null;
  const use = useExpected(protocol, times?.cases ?? 0);
  return (
    <Frame
      place="protocols"
      title={ownTimesWords.title}
      lede={ownTimesWords.lede}
      actions={<LeadDeskActions />}
    >
      <div className="own-times-choice">
        <SelectField
          label={ownTimesWords.protocol}
          value={chosen}
          options={entries.map((e) => ({ value: e.protocol.id, label: e.protocol.title }))}
          onChange={setId}
        />
        <Segmented
          label={ownTimesWords.records}
          value={mode}
          options={MODES.map((value) => ({ value, label: ownTimesWords.mode[value] }))}
          onChange={setMode}
        />
      </div>
      <Found
        times={times}
        protocol={protocol}
        onUse={mode === 'patient' ? (step) => void use(step) : null}
      />
    </Frame>
  );
}

function hasRun(logs: readonly CaseLog[] | null, id: string): boolean {
  return (logs ?? []).some((log) => log.state.opened.protocol.id === id);
}

function Found(props: {
  readonly times: ProtocolTimes | null;
  readonly protocol: Protocol | undefined;
  readonly onUse: ((step: StepTimes) => void) | null;
}) {
  const { times, protocol, onUse } = props;
  if (times === null || protocol === undefined) {
    return <p className="lw-aside">{ownTimesWords.reading}</p>;
  }
  if (times.cases === 0) {
    return <EmptyState words={ownTimesWords.none} advice={ownTimesWords.noneTodo} />;
  }
  return (
    <>
      <p className="lw-aside">{ownTimesWords.from(times.cases)}</p>
      <OwnTimesSteps steps={times.steps} onUse={onUse} />
      <OwnTimesWindows windows={times.windows} protocol={protocol} />
    </>
  );
}
