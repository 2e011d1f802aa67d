import { useState } from 'react';
import { EVIDENCE_KINDS, withField } from '../../../protocol/schema-fields.ts';
import type { Evidence, Protocol } from '../../../protocol/types.ts';
import { fieldTexts } from '../../../words/form-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { EditorStepAnswers } from './EditorStepAnswers.tsx';
import { EntryFields } from './EntryFields.tsx';
import type { FormProblems } from './editor-form-problems.ts';
import { newEvidence } from './editor-step.ts';
import { stepChoices } from './editor-step-names.ts';

const KINDS = ['none', ...EVIDENCE_KINDS] as const;
const PLACE = 'action.evidence';

interface EvidenceProps {
  readonly protocol: Protocol;
  readonly evidence: Evidence | undefined;
  readonly problems: FormProblems;
  readonly onChange: (evidence: Evidence | undefined) => void;
}

/** What a press asks for beside being pressed. */
export function StepEvidence(props: EvidenceProps) {
  const { protocol, evidence, onChange } = props;
  return (
    <>
      <SelectField
        label={stepFormWords.evidence}
        value={evidence?.kind ?? 'none'}
        options={choicesOf(KINDS, stepFormWords.evidenceKind)}
        onChange={(value) => {
          const kind = EVIDENCE_KINDS.find((each) => each === value);
          onChange(kind === undefined ? undefined : newEvidence(kind, protocol));
        }}
      />
      {evidence !== undefined && <Asked {...props} evidence={evidence} />}
    </>
  );
}

function Asked(props: EvidenceProps & { readonly evidence: Evidence }) {
  const { protocol, evidence, problems, onChange } = props;
  const at = (key: string) => problems.at(`${PLACE}.${key}`);
  switch (evidence.kind) {
    case 'choice':
      return (
        <EditorStepAnswers
          options={evidence.options}
          place={PLACE}
          problems={problems}
          onChange={(options) => onChange({ ...evidence, options })}
        />
      );
    case 'reading':
      return <ReadingFields {...props} evidence={evidence} />;
    case 'material':
      return (
        <EntryFields
          part="material"
          keys={['slot']}
          entry={evidence}
          set={(key, value) => onChange(withField(evidence, key, value))}
          problemAt={at}
          choices={{ slot: protocol.slots.map(({ id, label }) => ({ value: id, label })) }}
        />
      );
    case 'note':
      return (
        <EntryFields
          part="note"
          keys={['label']}
          entry={evidence}
          set={(key, value) => onChange(withField(evidence, key, value))}
          problemAt={at}
        />
      );
    case 'read-back':
      return <ReadBackField {...props} />;
    default:
      return evidence satisfies never;
  }
}

/** What is read aloud with a press; nothing takes it away. */
export function ReadBackField(o: Omit<EvidenceProps, 'protocol'>) {
  const { evidence } = o;
  const entry = evidence?.kind === 'read-back' ? evidence : {};
  return (
    <EntryFields
      part="readBack"
      keys={['of']}
      entry={entry}
      set={(_, of) => o.onChange(of === '' ? undefined : readBack(of))}
      problemAt={(key) => o.problems.at(`${PLACE}.${key}`)}
    />
  );
}

/** The parser judges which of its words it may be. */
const readBack = (of: unknown): Evidence =>
  withField<Extract<Evidence, { kind: 'read-back' }>>({ kind: 'read-back', of: 'teeth' }, 'of', of);

function ReadingFields(
  o: EvidenceProps & { readonly evidence: Extract<Evidence, { kind: 'reading' }> },
) {
  const { evidence, onChange } = o;
  const at = (key: string) => o.problems.at(`${PLACE}.${key}`);
  const { steps } = o.protocol;
  const readings = steps.filter(
    ({ action }) => action.kind === 'confirm' && action.evidence?.kind === 'reading',
  );
  const set = (key: keyof typeof evidence, value: unknown): void =>
    onChange(withField(evidence, key, value));
  const shared = { part: 'reading', entry: evidence, set, problemAt: at } as const;
  return (
    <>
      <EntryFields {...shared} keys={['label', 'unit']} />
      <div className="editor-pair">
        <PlainNumber
          {...fieldTexts('reading', 'min')}
          value={evidence.min}
          problem={at('min')}
          onChange={(min) => onChange({ ...evidence, min })}
        />
        <PlainNumber
          {...fieldTexts('reading', 'max')}
          value={evidence.max}
          problem={at('max')}
          onChange={(max) => onChange({ ...evidence, max })}
        />
      </div>
      <EntryFields
        {...shared}
        keys={['against', 'equals']}
        choices={{ equals: stepChoices(steps, readings) }}
      />
    </>
  );
}

/** A bare number, with what was typed of it for as long as it is none. */
function PlainNumber(o: {
  readonly label: string;
  readonly value: number;
  readonly problem: string | undefined;
  readonly onChange: (value: number) => void;
}) {
  const { label, value, problem } = o;
  const [typed, setTyped] = useState(Number.isFinite(value) ? String(value) : '');
  const isTyped = !Number.isFinite(value) || numberOf(typed) === value;
  return (
    <TextField
      label={label}
      inputMode="decimal"
      width="short"
      value={isTyped ? typed : String(value)}
      problem={problem}
      onChange={(text) => {
        setTyped(text);
        o.onChange(numberOf(text));
      }}
    />
  );
}

const numberOf = (text: string): number =>
  text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.'));
