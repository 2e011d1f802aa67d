import type { FirstDay } from '../../outcomes/model/first-day.ts';
import type { OutcomesModel } from '../../outcomes/model/outcomes-types.ts';
import { acceptedTold, flagWords, oneDigit, shareWords } from '../../words/outcome-words.ts';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';

interface Row {
  readonly id: string;
  readonly rate: string;
  readonly years: number;
  readonly independent: number;
  readonly moderate: number;
  readonly strong: number;
}

const rowsOf = ({ rates }: FirstDay): readonly Row[] =>
  rates.flatMap(({ of, yearlyRate, needed }) =>
    needed.map((each) => ({
      ...each,
      id: `${of} ${each.years}`,
      rate: flagWords.firstRate[of](shareWords(yearlyRate)),
    })),
  );

/** How many units it takes before anything can be seen: told first while there are few. */
export function OutcomesFirstDay(o: { readonly model: OutcomesModel; readonly isFirst: boolean }) {
  const { firstDay, counts } = o.model;
  return (
    <Section
      title={o.isFirst ? flagWords.firstFew : flagWords.firstTitle}
      lede={flagWords.firstSoFar({ lives: counts.lives, unitYears: oneDigit(counts.unitYears) })}
    >
      <ul className="outcomes-lines">
        <li>{flagWords.firstFailures(firstDay.failures)}</li>
        <li>{flagWords.firstAccepted(acceptedTold(o.model.accepted))}</li>
        <li>
          {firstDay.acceptedYears === null
            ? flagWords.firstNotYet(firstDay.lives)
            : flagWords.firstYears({ lives: firstDay.lives, years: firstDay.acceptedYears })}
        </li>
        {firstDay.debondYears === null && <li>{flagWords.firstNever(firstDay.lives)}</li>}
        <li>{flagWords.firstAgainst(firstDay.against)}</li>
        <li>{flagWords.firstRuledOut(firstDay.ruledOutAfter)}</li>
      </ul>
      {o.isFirst ? (
        <NeededTable firstDay={firstDay} />
      ) : (
        <Disclosure summary={flagWords.firstTable}>
          <NeededTable firstDay={firstDay} />
        </Disclosure>
      )}
      <p className="lw-aside">{flagWords.firstSource}</p>
    </Section>
  );
}

function NeededTable({ firstDay }: { readonly firstDay: FirstDay }) {
  const { firstColumn } = flagWords;
  return (
    <Table
      caption={flagWords.firstTable}
      rows={rowsOf(firstDay)}
      rowId={({ id }) => id}
      columns={[
        { id: 'rate', label: flagWords.firstRates, heads: true, cell: ({ rate }) => rate },
        {
          id: 'years',
          label: firstColumn.followed,
          figures: true,
          cell: ({ years }) => flagWords.firstYear(years),
        },
        {
          id: 'independent',
          label: firstColumn.independent,
          figures: true,
          cell: ({ independent }) => independent,
        },
        {
          id: 'moderate',
          label: firstColumn.moderate,
          figures: true,
          cell: ({ moderate }) => moderate,
        },
        { id: 'strong', label: firstColumn.strong, figures: true, cell: ({ strong }) => strong },
      ]}
    />
  );
}
