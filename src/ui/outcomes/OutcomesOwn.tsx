import { useMemo, useState } from 'react';
import {
  flagWords,
  oneDigit,
  outcomeWords,
  rangeWords,
  shareWords,
  twoDigits,
} from '../../words/outcome-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { SelectField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';
import { OwnAgreement } from './OwnAgreement.tsx';
import { type PartProps, titled } from './part-props.ts';

interface OwnProps extends PartProps {
  readonly person: string | null;
  readonly onPerson: (person: string | null) => void;
}

/** Figures of one person, for that person: asked for each time, kept nowhere. */
export function OutcomesOwn({ model, input, read, isExample, person, onPerson }: OwnProps) {
  const [name, setName] = useState('');
  const names = useMemo(
    () =>
      [
        ...new Set(
          input.followUps.flatMap(({ bonded }) => (bonded?.people ?? []).map(({ label }) => label)),
        ),
      ].toSorted(),
    [input.followUps],
  );
  const endPoint = outcomeWords.endPoints[model.endPoint].toLowerCase();
  const { own } = model;
  return (
    <Section
      title={titled(`${flagWords.ownTitle}: ${endPoint}`, isExample)}
      lede={flagWords.ownLede}
    >
      <ul className="outcomes-lines">
        <li>{flagWords.ownWho}</li>
        <li>{flagWords.ownForget}</li>
        <li>{flagWords.ownLead}</li>
        <li>{flagWords.ownRisk}</li>
      </ul>
      {names.length === 0 && <p>{flagWords.ownNobody}</p>}
      {names.length > 0 && person === null && (
        <div className="outcomes-form">
          <SelectField
            label={flagWords.ownChoose}
            value={name}
            options={[
              { value: '', label: flagWords.ownNone },
              ...names.map((value) => ({ value, label: value })),
            ]}
            onChange={setName}
          />
          <Button disabled={name === ''} onPress={() => onPerson(name)}>
            {flagWords.ownShow}
          </Button>
        </div>
      )}
      {person !== null && (
        <>
          <h3>{person}</h3>
          {own !== null && <Own own={own} />}
          {!isExample && <OwnAgreement key={person} read={read} person={person} />}
          <ButtonRow>
            <Button onPress={() => onPerson(null)}>{flagWords.ownHide}</Button>
          </ButtonRow>
        </>
      )}
    </Section>
  );
}

function Own({ own }: { readonly own: NonNullable<PartProps['model']['own']> }) {
  const { counts, limits, rate, rows } = own;
  if (counts.lives === 0) return <p>{flagWords.ownEmpty}</p>;
  return (
    <>
      <p className="outcomes-counts">
        {outcomeWords.countLine({
          lives: counts.lives,
          patients: counts.patients,
          failures: counts.failures,
          withFailure: counts.patientsWithFailure,
          unseen: counts.unseen,
        })}
      </p>
      {own.showing === 'counts' && limits !== null && (
        <p>
          {outcomeWords.smallShare({
            failures: counts.failures,
            seen: counts.seen,
            low: shareWords(limits.low),
            high: shareWords(limits.high),
          })}
        </p>
      )}
      <p>
        {rate === null
          ? outcomeWords.rateNone
          : outcomeWords.rateExposure({
              failures: counts.failures,
              unitYears: oneDigit(counts.unitYears),
              rate: twoDigits(rate.per100),
              low: twoDigits(rate.low),
              high: twoDigits(rate.high),
            })}
      </p>
      {rows.length > 0 && (
        <Table
          caption={outcomeWords.tableTitle}
          rows={rows}
          rowId={({ years }) => String(years)}
          columns={[
            {
              id: 'time',
              label: outcomeWords.column.time,
              heads: true,
              cell: ({ years }) => outcomeWords.years(years),
            },
            {
              id: 'share',
              label: outcomeWords.column.share,
              figures: true,
              cell: ({ point }) =>
                point === null ? outcomeWords.notThatLong : shareWords(point.survival),
            },
            {
              id: 'interval',
              label: outcomeWords.column.interval,
              figures: true,
              cell: ({ point }) => (point === null ? '–' : rangeWords(point)),
            },
            {
              id: 'atRisk',
              label: outcomeWords.column.atRisk,
              figures: true,
              cell: ({ point }) => (point === null ? '–' : point.atRiskAfter),
            },
          ]}
        />
      )}
    </>
  );
}
