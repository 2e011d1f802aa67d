import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { unreachable } from '../../base/assert.ts';
import { wallMs } from '../../base/units.ts';
import { nowOf } from '../../engine/view.ts';
import { casesLacking } from '../../runtime/stock/shelf-ahead.ts';
import type { Times } from '../../words/date-words.ts';
import { dueWords, lateWords, leftWords, outForWords, pastWords } from '../../words/due-words.ts';
import { shelfAheadWords } from '../../words/shelf-ahead-words.ts';
import { toldLabels } from '../../words/told-protocol.ts';
import { Gauge } from '../parts/Gauge.tsx';
import { Section } from '../parts/Page.tsx';
import { type MarkShape, StateMark } from '../parts/StateMark.tsx';
import {
  useApp,
  useIsRunning,
  useSession,
  useTablet,
  useTimes,
} from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { useShelfAhead } from '../shared/use-shelf-ahead.ts';
import {
  BEGUN_BEFORE_MS,
  type Begun,
  type DueLine,
  dueModel,
  materialsOf,
  nearCases,
} from './due-model.ts';
import { RecallsCount } from './TodayRecalls.tsx';
import './today-due.css';

/** How often the minutes on this page are looked at again. */
const LOOK_EVERY_MS = 15_000;

/** Cases begun on the patients of these appointments; a rehearsal takes nothing out. */
function useBegun(nowMs: number, times: Times): readonly Begun[] {
  const session = useSession();
  const cases = useApp((s) => s.cases);
  const prepared = useApp((s) => s.prepared);
  const running = useApp((s) => s.running);
  const charts = new Set(nearCases({ prepared, nowMs, times }).map((spec) => spec.chartRef));
  const wanted = cases
    .filter((c) => c.mode === 'patient' && charts.has(c.chartRef))
    .filter((c) => nowMs - c.openedWallMs < BEGUN_BEFORE_MS)
    .map((c) => c.caseId)
    .join(' ');
  const look = async () => {
    const ids = wanted === '' ? [] : wanted.split(' ');
    const all = await Promise.all(ids.map((id) => session.readCase(id)));
    return all.flatMap((one) => (one.ok ? [one.value.log.state] : []));
  };
  const { value: states = [] } = useLoaded(look, [session], [wanted]);
  return states.map((state) => {
    const { chartRef } = state.opened.spec;
    const own = running?.log.state.opened === state.opened ? running : null;
    // What no window runs any more is known by the wall clock alone, and so as an interval.
    const stamp = own?.now ?? {
      wallMs: wallMs(nowMs),
      monoMs: state.anchor.stamp.monoMs,
      runId: '',
    };
    return { chartRef, state, now: nowOf(state, stamp) };
  });
}

function useWallMs(): number {
  const tablet = useTablet();
  const [nowMs, setNowMs] = useState(() => tablet.wallNowMs());
  useEffect(() => {
    const timer = setInterval(() => setNowMs(tablet.wallNowMs()), LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [tablet]);
  return nowMs;
}

interface Said {
  readonly what: string;
  readonly when: string;
  readonly mark: MarkShape;
}

function saidOf(
  line: DueLine,
  o: {
    readonly nowMs: number;
    readonly times: Times;
    readonly labels: ReadonlyMap<string, string>;
  },
): Said {
  const { nowMs, times } = o;
  const labelOf = (material: string) => o.labels.get(material) ?? material;
  if (line.kind === 'warming') {
    const { loMs, hiMs } = line.elapsed;
    const when = outForWords({ loMs, hiMs, floorMs: line.floorMs });
    return { what: dueWords.isOut(labelOf(line.material)), when, mark: 'part' };
  }
  const leftMs = line.atMs - nowMs;
  const isLate = leftMs < 0;
  const at = times.whenInLine(line.atMs, { nowMs });
  switch (line.kind) {
    case 'hold':
      return { what: dueWords.holdUntil(at), when: leftWords(leftMs), mark: 'part' };
    case 'appointment': {
      const when = isLate ? pastWords(-leftMs) : leftWords(leftMs);
      return { what: dueWords.appointment(at), when, mark: isLate ? 'full' : 'empty' };
    }
    case 'out-by': {
      const what = dueWords.outBy({ materials: line.materials.map(labelOf), at });
      const when = isLate ? lateWords(-leftMs) : leftWords(leftMs);
      return { what, when, mark: isLate ? 'spilled' : 'empty' };
    }
    default:
      return unreachable(line);
  }
}

function Line(o: {
  readonly line: DueLine;
  readonly nowMs: number;
  readonly labels: ReadonlyMap<string, string>;
}) {
  const { line, nowMs, labels } = o;
  const { what, when, mark } = saidOf(line, { nowMs, times: useTimes(), labels });
  const isLate = mark === 'spilled';
  return (
    <li className="due-line" data-late={isLate}>
      {line.kind === 'warming' ? (
        <Gauge
          size="stroke"
          kind="hold"
          decorative
          elapsedLoMs={line.elapsed.loMs}
          elapsedHiMs={line.elapsed.hiMs}
          floorMs={line.floorMs}
          targetMs={line.floorMs}
        />
      ) : (
        <StateMark shape={mark} />
      )}
      <span>{what}</span>
      <span className="due-when">{when}</span>
    </li>
  );
}

/** Cases that lack a material on their day, and recalls. The line has its room before either is read. */
function Lacking({ nowMs }: { readonly nowMs: number }) {
  const hasPrepared = useApp((s) => s.prepared.length > 0);
  const lacking = casesLacking(useShelfAhead(nowMs));
  const isRunning = useIsRunning();
  if (!hasPrepared) return null;
  return (
    <p className="due-shelf">
      {lacking > 0 && (
        <>
          <StateMark shape="spilled" />
          <Link href="/materials">{shelfAheadWords.lacking(lacking)}</Link>
        </>
      )}
      {!isRunning && <RecallsCount />}
    </p>
  );
}

/** What is due before today's and tomorrow's cases, and how late what is late is. */
export function TodayDue() {
  const nowMs = useWallMs();
  const times = useTimes();
  const prepared = useApp((s) => s.prepared);
  const entries = useApp((s) => s.protocols);
  const begun = useBegun(nowMs, times);
  const protocols = entries.map((e) => e.protocol);
  const due = dueModel({ prepared, protocols, begun, nowMs, times });
  const lacking = <Lacking nowMs={nowMs} />;
  if (due.length === 0) return lacking;
  const labels = toldLabels(protocols);
  return (
    <Section title={dueWords.title}>
      <ul className="due-cases">
        {due.map((one) => (
          <li key={one.id} aria-label={one.title} data-late={one.lateMs > 0}>
            <p className="due-case">
              <strong>{one.title}</strong> <span className="today-ref">{one.chartRef}</span>
            </p>
            <ul className="due-lines">
              {one.lines.map((line) => (
                <Line
                  key={`${line.kind} ${materialsOf(line).join(' ')}`}
                  line={line}
                  nowMs={nowMs}
                  labels={labels}
                />
              ))}
            </ul>
          </li>
        ))}
      </ul>
      {lacking}
    </Section>
  );
}
