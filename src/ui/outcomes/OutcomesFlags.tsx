import type { ChartShown, LotShown } from '../../outcomes/model/outcomes-types.ts';
import type { FlagLooked } from '../../outcomes/review-types.ts';
import {
  acceptedTold,
  flagWords,
  oneDigit,
  outcomeWords,
  shareWords,
} from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Table } from '../parts/Table.tsx';
import { useTimes } from '../shared/session-context.ts';
import { FlagChart } from './FlagChart.tsx';
import { FlagLook } from './FlagLook.tsx';
import { OutcomesCases } from './OutcomesCases.tsx';
import type { PartProps } from './part-props.ts';
import { titled } from './part-props.ts';

/** More cases than this are listed only when asked for. */
const SHOWN_OPEN = 12;

/** What may be more than chance, early: one chart for each end point, and lots to look at. */
export function OutcomesFlags(props: PartProps) {
  const { model, input, isExample } = props;
  return (
    <>
      <Section title={titled(flagWords.title, isExample)} lede={flagWords.lede}>
        <p className="lw-aside">{flagWords.countedOnce}</p>
        {model.charts.map((chart) => (
          <Chart key={chart.endPoint} chart={chart} {...props} />
        ))}
      </Section>
      <Lots {...props} />
      {input.reviews.looked.length > 0 && <Looked looked={input.reviews.looked} />}
    </>
  );
}

function Chart({ chart, read, isExample }: PartProps & { readonly chart: ChartShown }) {
  const times = useTimes();
  const endPoint = outcomeWords.endPoints[chart.endPoint];
  const { flaggedOn } = chart;
  const last = chart.lookedOn.at(-1);
  const cases = chart.flagged;
  return (
    <div className="outcomes-chart">
      <h3>{titled(flagWords.chart(endPoint), isExample)}</h3>
      <HeldAgainst chart={chart} />
      {flaggedOn === null ? (
        <p className="outcomes-says">
          <StateMark shape="part" /> {flagWords.noFlag}
        </p>
      ) : (
        <Banner
          tone="attention"
          words={flagWords.flag(acceptedTold(chart.accepted))}
          advice={flagWords.flaggedOn(times.dateOf(flaggedOn))}
        />
      )}
      <FlagChart chart={chart} endPoint={endPoint} />
      <p>
        {flagWords.chartLine({
          failures: chart.failures,
          expected: oneDigit(chart.expected),
          now: oneDigit(chart.now),
          limit: oneDigit(chart.limit),
        })}{' '}
        {last !== undefined && flagWords.lookedOn(times.dateOf(last))}
      </p>
      {cases.length > 0 && (
        <Disclosure summary={outcomeWords.casesOf(cases.length)} open={cases.length <= SHOWN_OPEN}>
          <OutcomesCases cases={cases} isExample={isExample} />
        </Disclosure>
      )}
      {flaggedOn !== null && (
        <FlagLook
          read={read}
          isExample={isExample}
          flag={{ chart: 'cusum', of: chart.endPoint, flaggedOn }}
        />
      )}
    </div>
  );
}

/** The rate in force, whose choice it is, and what another rate before it would have shown. */
function HeldAgainst({
  chart: { accepted, wasFlagged, flaggedOn },
}: {
  readonly chart: ChartShown;
}) {
  const times = useTimes();
  const { endPoint, fixedOn, before } = accepted;
  const told = acceptedTold(accepted);
  return (
    <p className="lw-aside">
      {fixedOn === null
        ? flagWords.accepted(told)
        : flagWords.acceptedSince({ ...told, since: times.dateOf(fixedOn) })}{' '}
      {before !== null && flagWords.drawnAnew(shareWords(before))}{' '}
      {wasFlagged === true && flaggedOn === null && flagWords.wasFlagged}
      {wasFlagged === false && flaggedOn !== null && flagWords.wasNotFlagged}
      {fixedOn === null && endPoint === 'success' && flagWords.successEasily}
    </p>
  );
}

const lotName = ({ materialClass, lot }: LotShown): string =>
  flagWords.lotOf({ material: materialClass, lot });

function Lots({ model, read, isExample }: PartProps) {
  const { lots, endPoint, today } = model;
  const open = lots.filter(({ isOpen }) => isOpen);
  return (
    <Section
      title={titled(flagWords.lotsTitle(outcomeWords.endPoints[endPoint].toLowerCase()), isExample)}
      lede={flagWords.lotsLede}
    >
      <p className="lw-aside">
        {flagWords.lotsUsual(acceptedTold(model.accepted))} {flagWords.lotNote}
      </p>
      {open.length === 0 && <p>{lots.length === 0 ? flagWords.lotsEmpty : flagWords.lotsNone}</p>}
      {open.map((lot) => (
        <div key={lotName(lot)} className="outcomes-chart">
          <h3>{lotName(lot)}</h3>
          <Banner
            tone="attention"
            words={flagWords.lotLook}
            advice={flagWords.lotLine({
              lives: lot.lives,
              failures: lot.failures,
              patients: lot.patientsWithFailure,
              chance: shareWords(lot.says.pAboveTwice),
            })}
          />
          <OutcomesCases cases={lot.cases} isExample={isExample} />
          <FlagLook
            read={read}
            isExample={isExample}
            flag={{
              chart: 'lot',
              of: `${lot.materialClass} ${lot.lot}`,
              flaggedOn: lot.lastFailedOn ?? today,
            }}
          />
        </div>
      ))}
      {lots.length > 0 && (
        <Disclosure summary={flagWords.lotsAll}>
          <LotsTable lots={lots} />
        </Disclosure>
      )}
    </Section>
  );
}

function LotsTable({ lots }: { readonly lots: readonly LotShown[] }) {
  const { column } = flagWords;
  return (
    <Table
      caption={flagWords.lotsAll}
      captionUnseen
      rows={lots}
      rowId={lotName}
      columns={[
        { id: 'lot', label: column.lot, heads: true, cell: lotName },
        { id: 'lives', label: column.lives, figures: true, cell: ({ lives }) => lives },
        { id: 'failures', label: column.failures, figures: true, cell: (lot) => lot.failures },
        {
          id: 'chance',
          label: column.chance,
          figures: true,
          cell: ({ says }) => shareWords(says.pAboveTwice),
        },
      ]}
    />
  );
}

function Looked({ looked }: { readonly looked: readonly FlagLooked[] }) {
  const times = useTimes();
  return (
    <Section title={flagWords.lookedTitle}>
      <ul className="outcomes-lines">
        {looked.toReversed().map((one) => (
          <li key={`${one.of} ${one.lookedOn} ${one.note}`}>
            {flagWords.lookedLine({
              on: times.dateOf(one.lookedOn),
              of: endPointOr(one.of),
              note: one.note,
            })}
          </li>
        ))}
      </ul>
    </Section>
  );
}

function endPointOr(of: string): string {
  const { endPoints } = outcomeWords;
  return of in endPoints ? endPoints[of as keyof typeof endPoints] : of;
}
