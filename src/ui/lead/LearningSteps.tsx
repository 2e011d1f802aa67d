import type { LearnedStep, Spread } from '../../runtime/lead/lead-learning.ts';
import { formatWords } from '../../words/duration.ts';
import { learningWords } from '../../words/learning-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Gauge } from '../parts/Gauge.tsx';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';

const GAUGE_PX = 180;

export const spreadWords = (spread: Spread | null): string =>
  spread === null ? learningWords.noSpread : learningWords.spread(spread);

function HandsGauge({ step, hands }: LearnedStep) {
  if (hands === null) return null;
  return (
    <Gauge
      kind="dwell"
      elapsedLoMs={hands.medianMs}
      elapsedHiMs={hands.p90Ms}
      targetMs={step.pace.medianMs.value}
      size="stroke"
      orientation="lying"
      lengthPx={GAUGE_PX}
      label={learningWords.gauge(step.title)}
    />
  );
}

function People({ step }: { readonly step: LearnedStep }) {
  if (step.people.length === 0) return null;
  return (
    <ul className="learning-people">
      {step.people.map(({ person, hands, took }) => (
        <li key={person}>
          <strong>{person}</strong> {learningWords.hands}: {spreadWords(hands)};{' '}
          {learningWords.took}: {spreadWords(took)}
        </li>
      ))}
    </ul>
  );
}

/** Each step with the pace of the hands as a gauge, and what the plan expects of it. */
export function LearningSteps(props: {
  readonly steps: readonly LearnedStep[];
  readonly onUse: ((step: LearnedStep) => void) | null;
}) {
  const { steps, onUse } = props;
  return (
    <Section title={learningWords.steps} lede={learningWords.stepsLede}>
      {onUse !== null && <p className="desk-lede">{learningWords.noteOfUse}</p>}
      <Table
        caption={learningWords.steps}
        captionUnseen
        rows={steps}
        rowId={(row) => row.step.id}
        columns={[
          { id: 'step', label: learningWords.step, heads: true, cell: (row) => row.step.title },
          { id: 'gauge', label: '', cell: (row) => <HandsGauge {...row} /> },
          { id: 'hands', label: learningWords.hands, cell: (row) => spreadWords(row.hands) },
          { id: 'took', label: learningWords.took, cell: (row) => spreadWords(row.took) },
          {
            id: 'expected',
            label: learningWords.expected,
            figures: true,
            cell: ({ step }) => formatWords(step.pace.medianMs.value),
          },
          {
            id: 'use',
            label: '',
            cell: (row) =>
              onUse !== null &&
              row.hands !== null && (
                <Button
                  rank="quiet"
                  name={learningWords.nameOfUse(row.step.title)}
                  onPress={() => onUse(row)}
                >
                  {learningWords.use}
                </Button>
              ),
          },
        ]}
      />
      <Disclosure summary={learningWords.people}>
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
