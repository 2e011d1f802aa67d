import { useState } from 'react';
import {
  type LightTrend,
  lightTrends,
  type TrendPoint,
} from '../../../runtime/stock/stock-light.ts';
import { lightWords } from '../../../words/light-log-words.ts';
import { CautionNote, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { Table } from '../../parts/Table.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { LightLogForm } from './LightLogForm.tsx';
import { LightLogTrend } from './LightLogTrend.tsx';
import {
  changeWords,
  hasFallen,
  hasOtherInstrument,
  instrumentWords,
  valueWords,
} from './light-log-model.ts';

/** Every light with its readings in time, against its own baseline. */
export function LightLog() {
  const readings = useStock((s) => s.readings);
  const isReader = useApp((s) => s.standing !== 'writer');
  const [isOpen, setOpen] = useState(false);
  const trends = lightTrends(readings);
  const add = (
    <Button rank="main" disabled={isReader} onPress={() => setOpen(true)}>
      {lightWords.add}
    </Button>
  );
  return (
    <>
      {trends.length === 0 ? (
        <EmptyState words={lightWords.none} advice={lightWords.noneTodo} action={add} />
      ) : (
        <div>{add}</div>
      )}
      {trends.map((trend) => (
        <Light key={trend.light} trend={trend} isReader={isReader} />
      ))}
      {isOpen && <LightLogForm readings={readings} onClose={() => setOpen(false)} />}
    </>
  );
}

function Light({ trend, isReader }: { readonly trend: LightTrend; readonly isReader: boolean }) {
  const { last, baseline, light } = trend;
  const times = useTimes();
  const fact = (reading: TrendPoint['reading']): string =>
    lightWords.lastFact({
      value: valueWords(reading),
      on: times.date(reading.onWallMs),
      with: reading.instrument,
    });
  return (
    <Section title={light}>
      <div className="light">
        <div className="light-facts">
          <p className="light-drift" data-fallen={hasFallen(trend)}>
            <span className="lw-quiet">{lightWords.drift}</span>
            <strong>{changeWords(last.changePercent)}</strong>
          </p>
          <p>
            <span className="lw-quiet">{lightWords.last}</span>
            {fact(last.reading)}
          </p>
          <p>
            <span className="lw-quiet">{lightWords.baselineFact}</span>
            {fact(baseline)}
          </p>
          {hasFallen(trend) && <CautionNote>{lightWords.fall}</CautionNote>}
          {hasOtherInstrument(trend) && <CautionNote>{lightWords.otherInstrument}</CautionNote>}
        </div>
        <LightLogTrend trend={trend} />
      </div>
      <Disclosure summary={lightWords.readings}>
        <Readings trend={trend} isReader={isReader} />
      </Disclosure>
    </Section>
  );
}

function Readings({ trend, isReader }: { readonly trend: LightTrend; readonly isReader: boolean }) {
  const { stock } = useSession();
  const times = useTimes();
  const words = lightWords.columns;
  return (
    <Table
      caption={lightWords.readings}
      captionUnseen
      rows={trend.points.toReversed()}
      rowId={(p) => p.reading.id}
      columns={[
        { id: 'on', label: words.on, heads: true, cell: (p) => times.date(p.reading.onWallMs) },
        { id: 'value', label: words.value, figures: true, cell: (p) => valueWords(p.reading) },
        {
          id: 'drift',
          label: words.drift,
          figures: true,
          cell: (p) =>
            p.reading.isBaseline ? lightWords.isBaseline : changeWords(p.changePercent),
        },
        {
          id: 'with',
          label: words.with,
          cell: (p) => instrumentWords(p.reading),
        },
        {
          id: 'remove',
          label: '',
          cell: (p) => (
            <Button
              rank="quiet"
              disabled={isReader}
              name={lightWords.removeName(times.date(p.reading.onWallMs))}
              onPress={() => void stock.removeReading(p.reading.id)}
            >
              {lightWords.remove}
            </Button>
          ),
        },
      ]}
    />
  );
}
