import { useEffect, useMemo, useState } from 'react';
import { numbnessOf } from '../../calc/anaesthesia.ts';
import { shift } from '../../engine/axis.ts';
import type { CaseInstant } from '../../engine/types.ts';
import { anaesthesiaTable } from '../../plan/anaesthesia-table.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { besideWords } from '../../words/beside-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { useTablet, useTimes } from '../shared/session-context.ts';
import { type BesideLine, countLines, injectionLines } from './beside-model.ts';
import './chair-beside.css';

/** These clocks are told in minutes, in ms. */
const TICK_MS = 5000;

/** Now on the case axis, also while no other clock draws the chair anew. */
function useNow(running: RunningCase): CaseInstant {
  const tablet = useTablet();
  const [, setCount] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each picture is a new instant.
  const seenAtMs = useMemo(() => tablet.realNowMs(), [running.now]);
  const stands = running.isStale || running.log.state.closed !== null;
  useEffect(() => {
    if (stands) return undefined;
    const timer = setInterval(() => setCount((n) => n + 1), TICK_MS);
    return () => clearInterval(timer);
  }, [stands]);
  const sinceMs = stands ? 0 : (tablet.realNowMs() - seenAtMs) * running.speed;
  return shift(running.view.at, Math.max(0, Math.round(sinceMs)));
}

/** Anaesthesia, and what was counted in: clocks that belong to no step of the protocol. */
export function ChairBeside(o: { readonly running: RunningCase; readonly onNote: () => void }) {
  const { running } = o;
  const now = useNow(running);
  const given = injectionLines(running, now);
  const counted = countLines(running, now);
  const { closed } = running.log.state;
  return (
    <>
      {counted.map((line) => (
        <Line key={line.id} line={line} tone="broken" />
      ))}
      {given.map((line) => (
        <Line key={line.id} line={line} tone="attention" />
      ))}
      {closed !== null && <LipLine running={running} />}
      {given.some((line) => line.warning !== null) && !running.isViewOnly && (
        <div>
          <Button size="chair" onPress={o.onNote}>
            {besideWords.noteAgain}
          </Button>
        </div>
      )}
    </>
  );
}

function Line(o: { readonly line: BesideLine; readonly tone: 'attention' | 'broken' }) {
  const { words, detail, warning } = o.line;
  return (
    <>
      {warning !== null && <Banner tone={o.tone} words={warning} />}
      {words !== '' && (
        <p className="chair-beside">
          <strong>{words}</strong>
          {detail !== '' && <span>{detail}</span>}
        </p>
      )}
    </>
  );
}

/** What the patient is told at the end. */
function LipLine({ running }: { readonly running: RunningCase }) {
  const times = useTimes();
  const { state, records } = running.log;
  const last = state.injections.at(-1);
  if (last === undefined) return null;
  const soft = numbnessOf(anaesthesiaTable(), last)?.softTissueMs ?? null;
  const openedMs = records[0]?.stamp.wallMs ?? 0;
  return (
    <p className="chair-beside">
      <strong>
        {soft === null
          ? besideWords.endLipUnknown
          : besideWords.endLip(times.time(openedMs + last.at.loMs + soft.hiMs))}
      </strong>
    </p>
  );
}
