import { Link } from 'wouter';
import type { Protocol, Step } from '../../protocol/types.ts';
import type { ProtocolEntry } from '../../runtime/app-state.ts';
import { cardWords } from '../../words/card-words.ts';
import { momentWords } from '../../words/date-words.ts';
import { BY_WORDS, protocolWords, SCOPE_WORDS } from '../../words/protocol-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Gauge } from '../parts/Gauge.tsx';
import {
  gaugeLengthPx,
  shortHash,
  stepAsks,
  stepGauge,
  windowAsks,
} from '../shared/protocol-model.ts';
import { useApp } from '../shared/session-context.ts';
import { type NumberCell, shownValue, stepRow } from './editor/editor-model.ts';
import './wall-card.css';

const GAUGE_MAX_PX = 110;

/** One protocol on one sheet of paper: what is timed, the windows, the cautions, the revision. */
export function WallCard({ id }: { readonly id: string }) {
  const entry = useApp((s) => s.protocols.find((e) => e.protocol.id === id));
  if (entry === undefined) {
    return (
      <main>
        <EmptyState
          words={cardWords.gone}
          action={<Link href="/protocols">{protocolWords.back}</Link>}
        />
      </main>
    );
  }
  return (
    <main className="card-page">
      <div className="card-bar lw-screen-only">
        <Link href={`/protocols/${id}`}>{cardWords.back}</Link>
        <Button rank="main" onPress={() => window.print()}>
          {cardWords.print}
        </Button>
      </div>
      <Card entry={entry} />
    </main>
  );
}

function Card({ entry }: { readonly entry: ProtocolEntry }) {
  const { protocol, hash, approval } = entry;
  return (
    <article className="card" aria-label={protocol.title}>
      <header>
        <h1>{protocol.title}</h1>
        <p>
          <strong>
            {approval === null
              ? cardWords.unconfirmed
              : cardWords.confirmed({ by: approval.by, on: momentWords(approval.onWallMs) })}
          </strong>
          <span>{cardWords.revision({ revision: protocol.revision, hash: shortHash(hash) })}</span>
        </p>
      </header>
      <div className="card-columns">
        {protocol.stages.map((stage) => (
          <Stage key={stage.id} protocol={protocol} id={stage.id} title={stage.title} />
        ))}
        <CardWindows protocol={protocol} />
        <section className="card-part card-cautions">
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
    </article>
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
    <section className="card-part">
      <h2>{props.title}</h2>
      <ol>
        {steps.map((step) => (
          <Line key={step.id} step={step} />
        ))}
      </ol>
    </section>
  );
}

const shown = (cells: readonly NumberCell[]): string =>
  cells
    .flatMap(({ figure, spot }) => (figure === null ? [] : [shownValue(spot.key, figure.value)]))
    .join(', ');

function bounds(step: Step): string {
  const row = stepRow(step);
  if (row === null || step.action.kind !== 'dwell') return '';
  const [min, max] = [shown(row.min), shown(row.max)];
  const parts = [
    ...(min === '' ? [] : [`${cardWords.min} ${min}`]),
    ...(max === '' ? [] : [`${cardWords.max} ${max}`]),
  ];
  return parts.join(', ');
}

function Line({ step }: { readonly step: Step }) {
  const gauge = stepGauge(step);
  return (
    <li>
      <span className="card-title">{step.title}</span>
      <span className="card-who">
        {BY_WORDS[step.by]}, {SCOPE_WORDS[step.per]}
      </span>
      {(gauge !== null || stepAsks(step) !== '') && (
        <span className="card-asks">
          {gauge !== null && (
            <Gauge
              {...gauge}
              size="stroke"
              orientation="lying"
              lengthPx={gaugeLengthPx(gauge, { maxPx: GAUGE_MAX_PX })}
              decorative
            />
          )}
          <strong>{stepAsks(step)}</strong> {bounds(step)}
        </span>
      )}
    </li>
  );
}

function CardWindows({ protocol }: { readonly protocol: Protocol }) {
  const titleOf = (id: string) => protocol.steps.find((s) => s.id === id)?.title ?? id;
  if (protocol.windows.length === 0) return null;
  return (
    <section className="card-part">
      <h2>{cardWords.windows}</h2>
      <ul>
        {protocol.windows.map((window) => (
          <li key={window.id}>
            <span className="card-title">{window.title}</span>{' '}
            <span className="card-who">
              {protocolWords.windowFromTo({
                from: titleOf(window.from.step),
                to: titleOf(window.to.step),
              })}
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
