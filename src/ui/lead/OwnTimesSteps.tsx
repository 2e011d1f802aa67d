import { OWN_PACE_COUNT_MIN } from '../../plan/own-paces.ts';
import { paceOf } from '../../protocol/pace.ts';
import type { Pace } from '../../protocol/types.ts';
import type { StepTimes } from '../../runtime/lead/lead-own-times.ts';
import { formatWords } from '../../words/duration.ts';
import { ownTimesWords, spreadWords } from '../../words/own-times-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Gauge } from '../parts/Gauge.tsx';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';
import { paced } from './own-times-model.ts';

const GAUGE_PX = 180;

/** What the plan expects: one time, or a fixed one and more for each subject. */
function expectedWords({ medianMs, perSubjectMs }: Pace): string {
  const fixed = formatWords(medianMs.value);
  if (perSubjectMs === undefined) return fixed;
  return ownTimesWords.expectedEach({ fixed, each: formatWords(perSubjectMs.value) });
}

function HandsGauge({ step, hands }: StepTimes) {
  if (hands === null) return null;
  return (
    <Gauge
      kind="dwell"
      elapsedLoMs={hands.medianMs}
      elapsedHiMs={hands.p90Ms}
      targetMs={paceOf(step).medianMs}
      size="stroke"
      orientation="lying"
      lengthPx={GAUGE_PX}
      label={ownTimesWords.gauge(step.title)}
    />
  );
}

function People({ step }: { readonly step: StepTimes }) {
  if (step.people.length === 0) return null;
  return (
    <ul className="lw-aside">
      {step.people.map(({ person, hands, took }) => (
        <li key={person}>
          <strong>{person}</strong>{' '}
          {ownTimesWords.ofPerson({ hands: spreadWords(hands), took: spreadWords(took) })}
        </li>
      ))}
    </ul>
  );
}

/** Every pace that enough presses stand behind, with one press. */
function TakeAll(props: {
  readonly steps: readonly StepTimes[];
  readonly onTake: (steps: readonly StepTimes[]) => void;
}) {
  const found = paced(props.steps);
  return (
    <>
      <p className="desk-lede">{ownTimesWords.noteOfUse}</p>
      {found.length === 0 ? (
        <p className="lw-aside">{ownTimesWords.takeNone(OWN_PACE_COUNT_MIN)}</p>
      ) : (
        <div className="own-times-take">
          <Button rank="main" onPress={() => props.onTake(found)}>
            {ownTimesWords.takeAll(found.length)}
          </Button>
          <p className="lw-aside">{ownTimesWords.takeNote(OWN_PACE_COUNT_MIN)}</p>
        </div>
      )}
    </>
  );
}

/** Each step with the pace of the hands as a gauge, and what the plan expects of it. */
export function OwnTimesSteps(props: {
  readonly steps: readonly StepTimes[];
  readonly onTake: ((steps: readonly StepTimes[]) => void) | null;
}) {
  const { steps, onTake } = props;
  return (
    <Section title={ownTimesWords.steps} lede={ownTimesWords.stepsLede}>
      {onTake !== null && <TakeAll steps={steps} onTake={onTake} />}
      <Table
        caption={ownTimesWords.steps}
        captionUnseen
        rows={steps}
        rowId={(row) => row.step.id}
        columns={[
          { id: 'step', label: ownTimesWords.step, heads: true, cell: (row) => row.step.title },
          { id: 'gauge', label: '', cell: (row) => <HandsGauge {...row} /> },
          { id: 'hands', label: ownTimesWords.hands, cell: (row) => spreadWords(row.hands) },
          { id: 'took', label: ownTimesWords.took, cell: (row) => spreadWords(row.took) },
          {
            id: 'expected',
            label: ownTimesWords.expected,
            figures: true,
            cell: ({ step }) => expectedWords(step.pace),
          },
          {
            id: 'use',
            label: '',
            cell: (row) =>
              onTake !== null &&
              row.pace !== null && (
                <Button
                  rank="quiet"
                  name={ownTimesWords.nameOfUse(row.step.title)}
                  onPress={() => onTake([row])}
                >
                  {ownTimesWords.use}
                </Button>
              ),
          },
        ]}
      />
      <Disclosure summary={ownTimesWords.people}>
        <ul className="editor-paces">
          {steps.map((row) => (
            <li key={row.step.id}>
              {row.step.title}
              <People step={row} />
            </li>
          ))}
        </ul>
      </Disclosure>
    </Section>
  );
}
