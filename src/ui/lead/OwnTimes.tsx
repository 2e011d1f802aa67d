import { useState } from 'react';
import { useLocation } from 'wouter';
import type { CaseLog } from '../../engine/log.ts';
import { addEdit } from '../../protocol/edit-history.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { ProtocolEntry } from '../../runtime/app-state.ts';
import {
  ownTimesFrom,
  type ProtocolTimes,
  type StepTimes,
} from '../../runtime/lead/lead-own-times.ts';
import { draftOf } from '../../runtime/lead/take-over.ts';
import { ownTimesWords } from '../../words/own-times-words.ts';
import { Banner, EmptyState } from '../parts/Banner.tsx';
import { SelectField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useSession, useTimes } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { OwnTimesSteps } from './OwnTimesSteps.tsx';
import { OwnTimesWindows } from './OwnTimesWindows.tsx';
import { withPaces } from './own-times-model.ts';
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

/** Puts paces into a draft of the protocol: the own one that is open, or a new one. One press, one Undo. */
function useTakeOver(entry: Pick<ProtocolEntry, 'protocol' | 'hash'> | undefined) {
  const desk = useLeadDesk();
  const times = useTimes();
  const zone = useApp((s) => s.settings.zone);
  const [, navigate] = useLocation();
  const [isFailed, setFailed] = useState(false);
  const into = async (steps: readonly StepTimes[]): Promise<boolean> => {
    if (entry === undefined) return false;
    // A draft that came in from another tablet stays as it came.
    const open = draftOf(desk.state.getState().drafts, entry.hash);
    const begun = open ? null : await desk.beginDraft(entry.protocol);
    const id = open?.id ?? (begun?.ok ? begun.value : null);
    const draft = desk.state.getState().drafts.find((d) => d.id === id);
    if (draft === undefined) return false;
    const on = times.isoDay(desk.nowWallMs());
    const next = withPaces(draft.history.protocol, steps, { zone, on });
    const edited = next && addEdit(draft.history, { do: 'replace', protocol: next });
    if (!edited?.ok) return false;
    const saved = await desk.saveDraft(draft.id, edited.value);
    if (saved.ok) navigate(`/lead/draft/${draft.id}/effect`);
    return saved.ok;
  };
  const take = async (steps: readonly StepTimes[]): Promise<void> =>
    setFailed(!(await into(steps)));
  return { take, isFailed };
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
  const entry = entries.find((e) => e.protocol.id === chosen);
  const protocol = entry?.protocol;
  const times = protocol && logs ? ownTimesFrom(protocol, logs) : null;
  const { take, isFailed } = useTakeOver(entry);
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
      {isFailed && <Banner tone="attention" words={ownTimesWords.failed} />}
      <Found
        times={times}
        protocol={protocol}
        onTake={mode === 'patient' ? (steps) => void take(steps) : null}
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
  readonly onTake: ((steps: readonly StepTimes[]) => void) | null;
}) {
  const { times, protocol, onTake } = props;
  if (times === null || protocol === undefined) {
    return <p className="lw-aside">{ownTimesWords.reading}</p>;
  }
  if (times.cases === 0) {
    return <EmptyState words={ownTimesWords.none} advice={ownTimesWords.noneTodo} />;
  }
  return (
    <>
      <p className="lw-aside">{ownTimesWords.from(times.cases)}</p>
      <OwnTimesSteps steps={times.steps} onTake={onTake} />
      <OwnTimesWindows windows={times.windows} protocol={protocol} />
    </>
  );
}
