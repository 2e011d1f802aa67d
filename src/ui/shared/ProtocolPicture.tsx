import type { CSSProperties } from 'react';
import type { Step } from '../../protocol/types.ts';
import { protocolWords, stepAsks, whoWords, windowAsks } from '../../words/protocol-words.ts';
import type { Sequence, SequenceWindow } from './protocol-model.ts';
import { StepGauge } from './StepGauge.tsx';

const GAUGE_MAX_PX = 240;

function StepLine(props: {
  readonly protocol: Sequence['protocol'];
  readonly step: Step;
  readonly line: number;
}) {
  const { step, line } = props;
  const asks = stepAsks(step, props.protocol);
  return (
    <li className="sequence-step" style={{ '--line': line } as CSSProperties}>
      <span className="sequence-title">{step.title}</span>
      <span className="sequence-who">{whoWords(step)}</span>
      <span className="sequence-asks">
        <StepGauge step={step} maxPx={GAUGE_MAX_PX} />
        {asks !== '' && <span>{asks}</span>}
      </span>
    </li>
  );
}

function Bracket({ span }: { readonly span: SequenceWindow }) {
  const { window, lane, fromLine, toLine } = span;
  const style = { '--lane': lane, '--from': fromLine, '--to': toLine } as CSSProperties;
  return (
    <li className="sequence-window" style={style} data-severity={window.severity}>
      {/* Where a bracket is short, its name is cut, which the list below has in full; never its figure. */}
      <span className="sequence-window-words">
        <strong>{span.letter}</strong>{' '}
        {protocolWords.windowAsks({ asks: windowAsks(window), title: window.title })}
      </span>
    </li>
  );
}

/** The steps from top to bottom, their gauges lying, the windows as brackets beside them. */
export function ProtocolPicture({ sequence }: { readonly sequence: Sequence }) {
  const style = { '--lanes': sequence.lanes, '--lines': sequence.lines } as CSSProperties;
  return (
    <div className="sequence" style={style}>
      <ul className="sequence-stages">
        {sequence.stages.map((stage) => (
          <li key={stage.id} className="sequence-stage">
            <h3 style={{ '--line': stage.line } as CSSProperties}>{stage.title}</h3>
            <ul>
              {stage.rows.map(({ step, line }) => (
                <StepLine key={step.id} protocol={sequence.protocol} step={step} line={line} />
              ))}
            </ul>
          </li>
        ))}
      </ul>
      <ul className="sequence-windows" aria-label={protocolWords.windows}>
        {sequence.windows.map((span) => (
          <Bracket key={span.window.id} span={span} />
        ))}
      </ul>
    </div>
  );
}
