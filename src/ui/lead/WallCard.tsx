import { Link } from 'wouter';
import type { Figure, Protocol, Step } from '../../protocol/types.ts';
import type { ProtocolEntry } from '../../runtime/app-state.ts';
import { approvers } from '../../words/approval-words.ts';
import { cardWords } from '../../words/card-words.ts';
import { protocolWords, stepAsks, whoWords, windowAsks } from '../../words/protocol-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { EmergencyButton } from '../shared/EmergencyButton.tsx';
import { PaperSheet } from '../shared/PaperSheet.tsx';
import { shortHash, stepGauge, windowEnds } from '../shared/protocol-model.ts';
import { SharingSpot } from '../shared/SharingSpot.tsx';
import { StepGauge } from '../shared/StepGauge.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { shownValue } from './editor/editor-model.ts';
import './wall-card.css';

const GAUGE_MAX_PX = 110;

/** One protocol on one sheet of paper: what is timed, the windows, the cautions, the revision. */
export function WallCard({ id }: { readonly id: string }) {
  const entry = useApp((s) => s.protocols.find((e) => e.protocol.id === id));
  if (entry === undefined) {
    return (
      <main>
        <SharingSpot />
        <EmergencyButton />
        <EmptyState
          words={cardWords.gone}
          action={<Link href="/protocols">{protocolWords.back}</Link>}
        />
      </main>
    );
  }
  return <Card entry={entry} />;
}

function Card({ entry }: { readonly entry: ProtocolEntry }) {
  const times = useTimes();
  const { hash, approval } = entry;
  const protocol = toldProtocol(entry.protocol);
  return (
    <PaperSheet
      look="card"
      title={protocol.title}
      back={{ href: `/protocols/${protocol.id}`, words: cardWords.back }}
      print={cardWords.print}
    >
      <header>
        <h1>{protocol.title}</h1>
        <p>
          <strong>
            {approval === null
              ? cardWords.unconfirmed
              : cardWords.confirmed({
                  by: approvers(approval),
                  on: times.moment(approval.onWallMs),
                })}
          </strong>
          <span>{cardWords.revision({ revision: protocol.revision, hash: shortHash(hash) })}</span>
        </p>
      </header>
      <div className="paper-columns">
        {protocol.stages.map((stage) => (
          <Stage key={stage.id} protocol={protocol} id={stage.id} title={stage.title} />
        ))}
        <CardWindows protocol={protocol} />
        <section className="paper-part card-cautions" data-framed="true">
          <h2>{cardWords.cautions}</h2>
          <ul>
            {protocol.cautions.map((caution) => (
              <li key={caution.id}>{caution.words}</li>
            ))}
          </ul>
        </section>
      </div>
      <footer>
        <p>{cardWords.foot}</p>
        <p>{hash}</p>
      </footer>
    </PaperSheet>
  );
}

function Stage(props: {
  readonly protocol: Protocol;
  readonly id: string;
  readonly title: string;
}) {
  const steps = props.protocol.steps.filter((step) => step.stage === props.id);
  if (steps.length === 0) return null;
  return (
    <section className="paper-part">
      <h2>{props.title}</h2>
      <ol>
        {steps.map((step) => (
          <Line key={step.id} step={step} protocol={props.protocol} />
        ))}
      </ol>
    </section>
  );
}

/** "Min 15 s, limit 30 s": what a time that runs must keep to; empty when nothing limits it. */
function limits({ action }: Step): string {
  if (action.kind !== 'dwell') return '';
  const shown = (figure: Figure | undefined) => figure && shownValue('action.minMs', figure.value);
  const [min, max] = [shown(action.minMs), shown(action.maxMs)];
  if (min === undefined) return max === undefined ? '' : cardWords.limits.max(max);
  return max === undefined ? cardWords.limits.min(min) : cardWords.limits.both({ min, max });
}

function Line({ step, protocol }: { readonly step: Step; readonly protocol: Protocol }) {
  const asks = stepAsks(step, protocol);
  return (
    <li>
      <span className="card-title">{step.title}</span>
      <span className="card-who">{whoWords(step)}</span>
      {(stepGauge(step) !== null || asks !== '') && (
        <span className="card-asks">
          <StepGauge step={step} maxPx={GAUGE_MAX_PX} />
          <strong>{asks}</strong> {limits(step)}
        </span>
      )}
    </li>
  );
}

function CardWindows({ protocol }: { readonly protocol: Protocol }) {
  if (protocol.windows.length === 0) return null;
  return (
    <section className="paper-part">
      <h2>{cardWords.windows}</h2>
      <ul>
        {protocol.windows.map((window) => (
          <li key={window.id}>
            <span className="card-title">{window.title}</span>{' '}
            <span className="card-who">
              {protocolWords.windowFromTo(windowEnds(protocol, window))}
            </span>
            <span className="card-asks">
              <strong>{windowAsks(window)}</strong>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
