import type { Protocol } from '../../protocol/types.ts';
import type { WindowTimes } from '../../runtime/lead/lead-own-times.ts';
import { formatWords } from '../../words/duration.ts';
import { ownTimesWords, spreadWords } from '../../words/own-times-words.ts';
import { Gauge } from '../parts/Gauge.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { TableSection } from '../parts/Table.tsx';
import { windowEnds } from '../shared/protocol-model.ts';

const GAUGE_PX = 180;

function OpenGauge({ window, open }: WindowTimes) {
  if (open === null) return null;
  const { minMs, maxMs } = window;
  return (
    <Gauge
      kind={maxMs === undefined ? 'hold' : 'window'}
      elapsedLoMs={open.medianMs}
      elapsedHiMs={open.p90Ms}
      {...(minMs === undefined ? {} : { floorMs: minMs.value })}
      {...(maxMs === undefined ? {} : { rimMs: maxMs.value })}
      size="stroke"
      orientation="lying"
      lengthPx={GAUGE_PX}
      label={ownTimesWords.gauge(window.title)}
    />
  );
}

/** Each window with how long it stood open, in how many cases it was broken, and where. */
export function OwnTimesWindows(props: {
  readonly windows: readonly WindowTimes[];
  readonly protocol: Protocol;
}) {
  const { windows, protocol } = props;
  const where = ({ window, subjects }: WindowTimes): string => {
    const ends = windowEnds(protocol, window);
    if (subjects.length === 0) return ownTimesWords.fromTo(ends);
    const on = subjects.map((subject) => subject.replace(/^(unit|tooth):/, ''));
    return ownTimesWords.fromToOn({ ...ends, on });
  };
  return (
    <TableSection
      title={ownTimesWords.windows}
      lede={ownTimesWords.windowsLede}
      rows={windows}
      rowId={(row) => row.window.id}
      empty={ownTimesWords.noWindows}
      columns={[
        { id: 'window', label: ownTimesWords.window, heads: true, cell: (r) => r.window.title },
        { id: 'gauge', label: '', cell: (row) => <OpenGauge {...row} /> },
        { id: 'open', label: ownTimesWords.wasOpen, cell: (row) => spreadWords(row.open) },
        {
          id: 'broken',
          label: ownTimesWords.broken,
          cell: ({ casesBroken, casesPerhaps, cases }) => (
            <span className="own-times-broken" data-broken={casesBroken > 0}>
              <StateMark shape={casesBroken > 0 ? 'spilled' : 'full'} />
              {ownTimesWords.brokenIn({ broken: casesBroken, cases })}
              {casesPerhaps > 0 && <small>{ownTimesWords.perhapsIn(casesPerhaps)}</small>}
            </span>
          ),
        },
        {
          id: 'worst',
          label: ownTimesWords.worst,
          figures: true,
          cell: ({ worstMs }) => (worstMs === 0 ? '' : formatWords(worstMs, 'up')),
        },
        { id: 'where', label: ownTimesWords.where, cell: where },
      ]}
    />
  );
}
