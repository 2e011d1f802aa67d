import { lazy } from 'react';
import { useLocation } from 'wouter';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { NotBegun } from '../../runtime/session-parts.ts';
import { todayWords } from '../../words/today-words.ts';
import { Arch } from '../parts/Arch.tsx';
import { Button } from '../parts/Button.tsx';
import { Late } from '../parts/Late.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { useApp } from '../shared/session-context.ts';
import type { PreparedCard, Standing } from '../shared/today-model.ts';

const PreparedCalendar = lazy(async () => ({
  default: (await import('./PreparedCalendar.tsx')).PreparedCalendar,
}));

const TodayNotBegun = lazy(async () => ({
  default: (await import('./TodayNotBegun.tsx')).TodayNotBegun,
}));

const PreparedTwice = lazy(async () => ({
  default: (await import('./PreparedTwice.tsx')).PreparedTwice,
}));

interface PreparedRowProps {
  readonly card: PreparedCard;
  readonly speed: number;
  /** The one row whose first button carries the accent. */
  readonly isMain: boolean;
  /** A drill of it is being drawn. */
  readonly isDrawing: boolean;
  readonly refusal: NotBegun | null;
  readonly onBegin: () => void;
  readonly onBeginAllTheSame: () => void;
  readonly onAgain: () => void;
  readonly onRehearse: () => void;
  readonly onDrill: () => void;
}

const STANDING_MARK = { confirmed: 'full', unconfirmed: 'part', missing: 'broken' } as const;

function StandingLine({
  standing,
  title,
}: {
  readonly standing: Standing;
  readonly title: string;
}) {
  return (
    <p className="today-standing" data-standing={standing}>
      <StateMark shape={STANDING_MARK[standing]} />
      <span>
        <strong>{todayWords[standing]}</strong>
        <span className="today-protocol">{title}</span>
      </span>
    </p>
  );
}

/** A finishing visit that nobody gave a date is told to the calendar from the end of its hold. */
const datedSpec = ({ spec, holdEndsMs }: PreparedCard): CaseFile =>
  holdEndsMs === null ? spec : { ...spec, scheduledFor: new Date(holdEndsMs).toISOString() };

/** One prepared case: when, which teeth, on which protocol, and the two ways to begin. */
export function PreparedRow(props: PreparedRowProps) {
  const { card, isMain } = props;
  const [, navigate] = useLocation();
  const { title, chartRef, id, units } = card.spec;
  const others = useApp((s) => s.preparedTwice.get(id));
  const isConfirmed = card.standing === 'confirmed';
  return (
    <li className="today-card" aria-label={title}>
      <div className="today-what">
        {card.when !== '' && <p className="today-when">{card.when}</p>}
        <h4>{title}</h4>
        <p className="today-ref">
          {todayWords.refAndUnits({ chartRef, units: units.length })}
          {card.numbering !== '' && <span className="today-numbering">{card.numbering}</span>}
        </p>
        <StandingLine standing={card.standing} title={card.protocolTitle} />
      </div>
      <div className="today-where">
        <div className="today-arch" aria-hidden="true">
          <Arch teeth={card.teeth} hideSides />
        </div>
        <p className="lw-unseen">{card.order}</p>
      </div>
      <div className="today-buttons">
        <Button
          rank={isMain && isConfirmed ? 'main' : 'plain'}
          // Two tablets differ: somebody says first which one holds.
          disabled={others !== undefined}
          onPress={props.onBegin}
          name={todayWords.beginName(title)}
        >
          {todayWords.begin}
        </Button>
        <Button
          rank={isMain && !isConfirmed ? 'main' : 'plain'}
          onPress={props.onRehearse}
          name={todayWords.rehearseName({ title, speed: props.speed })}
        >
          {todayWords.rehearse}
        </Button>
        <Button
          onPress={props.onDrill}
          name={props.isDrawing ? undefined : todayWords.drillName(title)}
        >
          {props.isDrawing ? todayWords.drawing : todayWords.drill}
        </Button>
        <div className="today-links">
          <Button
            rank="quiet"
            onPress={() => navigate(`/plan/${id}`)}
            name={todayWords.planName(title)}
          >
            {todayWords.plan}
          </Button>
          <Button
            rank="quiet"
            onPress={() => navigate(`/set-up/${id}`)}
            name={todayWords.changeName(title)}
          >
            {todayWords.change}
          </Button>
          {card.when !== '' && (
            <Late>
              <PreparedCalendar spec={datedSpec(card)} />
            </Late>
          )}
        </div>
      </div>
      {others !== undefined && (
        <Late>
          <PreparedTwice spec={card.spec} others={others} />
        </Late>
      )}
      {props.refusal !== null && (
        <Late>
          <TodayNotBegun
            refusal={props.refusal}
            card={card}
            onBeginAllTheSame={props.onBeginAllTheSame}
            onAgain={props.onAgain}
          />
        </Late>
      )}
    </li>
  );
}
