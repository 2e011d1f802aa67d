import { type PointerEvent, useState } from 'react';
import type { CurveShown, StepShown } from '../../outcomes/model/outcomes-types.ts';
import {
  outcomeWords,
  rangeWords,
  shareWords,
  whenWords,
  yearsWords,
} from '../../words/outcome-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Table } from '../parts/Table.tsx';
import { AtRisk, Axes } from './CurveAxes.tsx';
import {
  bandPath,
  firmPart,
  nearestStep,
  PLOT,
  type Scale,
  scaleOf,
  stepPath,
  thinPath,
  WIDTH,
} from './curve-geometry.ts';
import { keepView, keptView } from './kept-view.ts';
import { OutcomesCases } from './OutcomesCases.tsx';

const HEIGHT = 420;
const RISK_Y = 394;

interface CurveProps {
  readonly title: string;
  readonly curve: CurveShown;
  readonly isExample: boolean;
}

/** The curve with its interval and numbers under observation. A step that is touched tells its cases. */
export function OutcomesCurve({ title, curve, isExample }: CurveProps) {
  const { steps } = curve;
  const [chosen, setChosen] = useState(() => keptStep(steps));
  const step = chosen === null ? undefined : steps[chosen];
  const choose = (at: number): void => {
    setChosen(at);
    keepView({ ...keptView(), day: steps[at]?.day ?? null });
  };
  const move = (by: number): void => {
    const from = chosen ?? (by > 0 ? -1 : steps.length);
    choose(Math.min(steps.length - 1, Math.max(0, from + by)));
  };
  return (
    <div className="outcomes-curve">
      <Picture title={title} curve={curve} chosen={chosen} onChoose={choose} />
      {lowestOf(curve) > 0 && (
        <p className="lw-aside">{outcomeWords.scaleFrom(shareWords(lowestOf(curve)))}</p>
      )}
      <Key hasThin={curve.thinFrom !== null} />
      {steps.length === 0 ? (
        <p>{outcomeWords.noStep}</p>
      ) : (
        <ButtonRow>
          <Button disabled={chosen === 0} onPress={() => move(-1)}>
            {outcomeWords.stepBefore}
          </Button>
          <Button disabled={chosen === steps.length - 1} onPress={() => move(1)}>
            {outcomeWords.stepNext}
          </Button>
        </ButtonRow>
      )}
      <div aria-live="polite" className="outcomes-step">
        {step !== undefined && chosen !== null && (
          <>
            <p className="lw-quiet">{outcomeWords.step({ at: chosen + 1, of: steps.length })}</p>
            <p>
              {outcomeWords.stepLine({
                when: whenWords(step.day),
                failures: step.failures,
                atRisk: step.atRisk,
                share: shareWords(step.survival),
                low: shareWords(step.low),
                high: shareWords(step.high),
              })}
            </p>
            {step.isThin && <p className="lw-aside">{outcomeWords.stepThin}</p>}
            <OutcomesCases cases={step.cases} isExample={isExample} />
          </>
        )}
      </div>
      {steps.length > 0 && (
        <Disclosure summary={outcomeWords.allSteps}>
          <StepsTable steps={steps} />
        </Disclosure>
      )}
    </div>
  );
}

/** The step that was looked at before; null where there is none, or the curve has no such step any more. */
function keptStep(steps: readonly StepShown[]): number | null {
  const { day } = keptView();
  const at = steps.findIndex((step) => step.day === day);
  return at === -1 ? null : at;
}

const pictureScale = (curve: CurveShown): Scale =>
  scaleOf({
    lastDay: curve.lastDay,
    lowest: Math.min(0.9, ...curve.steps.map(({ low }) => low)),
  });

const lowestOf = (curve: CurveShown): number => pictureScale(curve).foot;

function Picture(o: {
  readonly title: string;
  readonly curve: CurveShown;
  readonly chosen: number | null;
  readonly onChoose: (at: number) => void;
}) {
  const { curve, chosen } = o;
  const scale = pictureScale(curve);
  const choose = (event: PointerEvent<SVGSVGElement>): void => {
    if (curve.steps.length === 0) return;
    const box = event.currentTarget.getBoundingClientRect();
    o.onChoose(nearestStep(curve.steps, ((event.clientX - box.left) / box.width) * WIDTH, scale));
  };
  const step = chosen === null ? undefined : curve.steps[chosen];
  return (
    <svg
      className="outcomes-picture"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={outcomeWords.picture({
        title: o.title,
        steps: curve.steps.length,
        years: yearsWords(curve.lastDay),
      })}
      onPointerDown={choose}
    >
      <Axes scale={scale} />
      <path className="outcomes-band" d={bandPath(curve.steps, scale)} />
      <path className="outcomes-line" data-thin="true" d={thinPath(curve, scale)} />
      <path className="outcomes-line" d={stepPath(firmPart(curve), scale)} />
      {step !== undefined && <Chosen step={step} scale={scale} />}
      <AtRisk scale={scale} y={RISK_Y} label={outcomeWords.atRisk} atRisk={curve.atRisk} />
    </svg>
  );
}

function Chosen({ step, scale }: { readonly step: StepShown; readonly scale: Scale }) {
  const x = scale.x(step.day);
  return (
    <g className="outcomes-chosen">
      <line x1={x} x2={x} y1={PLOT.top} y2={PLOT.bottom} />
      <circle cx={x} cy={scale.y(step.survival)} r="9" />
    </g>
  );
}

function Key({ hasThin }: { readonly hasThin: boolean }) {
  const { key } = outcomeWords;
  return (
    <ul className="outcomes-key" aria-hidden="true">
      <li>
        <svg width="30" height="14" aria-hidden="true">
          <path className="outcomes-line" d="M1,4 H15 V10 H29" />
        </svg>
        {key.curve}
      </li>
      <li>
        <svg width="30" height="14" aria-hidden="true">
          <rect className="outcomes-band" x="1" y="1" width="28" height="12" />
        </svg>
        {key.band}
      </li>
      {hasThin && (
        <li>
          <svg width="30" height="14" aria-hidden="true">
            <path className="outcomes-line" data-thin="true" d="M1,7 H29" />
          </svg>
          {key.thin}
        </li>
      )}
    </ul>
  );
}

function StepsTable({ steps }: { readonly steps: readonly StepShown[] }) {
  const { column } = outcomeWords;
  return (
    <Table
      caption={outcomeWords.allSteps}
      captionUnseen
      rows={steps}
      rowId={({ day }) => String(day)}
      columns={[
        {
          id: 'time',
          label: column.time,
          heads: true,
          cell: ({ day }) => whenWords(day),
        },
        { id: 'atRisk', label: column.atRisk, figures: true, cell: ({ atRisk }) => atRisk },
        { id: 'failures', label: column.failures, figures: true, cell: ({ failures }) => failures },
        {
          id: 'share',
          label: column.share,
          figures: true,
          cell: ({ survival }) => shareWords(survival),
        },
        { id: 'interval', label: column.interval, figures: true, cell: rangeWords },
      ]}
    />
  );
}
