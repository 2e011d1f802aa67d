import type { Step } from '../../protocol/types.ts';
import { Gauge } from '../parts/Gauge.tsx';
import { gaugeLengthPx, stepGauge } from './protocol-model.ts';

/** The time of a step as a lying gauge beside its words; nothing where the step has no clock. */
export function StepGauge(props: { readonly step: Step; readonly maxPx: number }) {
  const gauge = stepGauge(props.step);
  if (gauge === null) return null;
  return (
    <Gauge
      {...gauge}
      size="stroke"
      orientation="lying"
      lengthPx={gaugeLengthPx(gauge, { maxPx: props.maxPx })}
      decorative
    />
  );
}
