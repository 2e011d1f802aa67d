import { type ReactNode, useId } from 'react';
import './controls.css';
import { partWords } from '../../words/part-words.ts';

interface SegmentedProps<Value extends string> {
  readonly label: string;
  readonly value: Value;
  readonly options: readonly { readonly value: Value; readonly label: string }[];
  readonly onChange: (value: Value) => void;
  /** Hides the label on the screen; it is still read out. */
  readonly labelUnseen?: boolean | undefined;
}

/** Few choices side by side; the chosen one is filled and underlined. */
export function Segmented<Value extends string>(props: SegmentedProps<Value>) {
  const name = useId();
  return (
    <fieldset className="lw-segmented">
      <legend className={props.labelUnseen === true ? 'lw-unseen' : 'lw-field-label'}>
        {props.label}
      </legend>
      <div className="lw-segments">
        {props.options.map((option) => (
          <label key={option.value} className="lw-segment">
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === props.value}
              onChange={() => props.onChange(option.value)}
            />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

interface MultiSegmentedProps<Value extends string> {
  readonly label: string;
  readonly values: readonly Value[];
  readonly options: readonly { readonly value: Value; readonly label: string }[];
  readonly onToggle: (value: Value) => void;
  readonly labelUnseen?: boolean | undefined;
}

/** Few values side by side of which several may hold; each that holds is filled and underlined. */
export function MultiSegmented<Value extends string>(props: MultiSegmentedProps<Value>) {
  return (
    <fieldset className="lw-segmented">
      <legend className={props.labelUnseen === true ? 'lw-unseen' : 'lw-field-label'}>
        {props.label}
      </legend>
      <div className="lw-segments" data-several="">
        {props.options.map((option) => (
          <label key={option.value} className="lw-segment">
            <input
              type="checkbox"
              checked={props.values.includes(option.value)}
              onChange={() => props.onToggle(option.value)}
            />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

interface StepperProps {
  readonly label: string;
  /** The value as it is shown: "21 °C", "20 s". */
  readonly shown: string;
  readonly onLess: () => void;
  readonly onMore: () => void;
  readonly atLeast?: boolean | undefined;
  readonly atMost?: boolean | undefined;
  readonly hint?: string | undefined;
}

/** A figure with one big button on either side, for gloved hands. */
export function Stepper(props: StepperProps) {
  const id = useId();
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be laid out as this row.
    <div className="lw-stepper" role="group" aria-labelledby={id}>
      <p className="lw-field-label" id={id}>
        {props.label}
      </p>
      {props.hint !== undefined && <p className="lw-field-hint">{props.hint}</p>}
      <div className="lw-stepper-row">
        <button
          type="button"
          aria-label={partWords.less(props.label)}
          disabled={props.atLeast === true}
          onClick={props.onLess}
        >
          {'\u2212'}
        </button>
        <output className="lw-stepper-value" aria-live="polite">
          {props.shown}
        </output>
        <button
          type="button"
          aria-label={partWords.more(props.label)}
          disabled={props.atMost === true}
          onClick={props.onMore}
        >
          +
        </button>
      </div>
    </div>
  );
}

interface CheckProps {
  readonly label: string;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
  readonly note?: ReactNode;
}

/** A box to tick, as large as a target, with its words. */
export function Check(props: CheckProps) {
  return (
    <label className="lw-check">
      <input
        type="checkbox"
        checked={props.checked}
        onChange={(event) => props.onChange(event.target.checked)}
      />
      <span className="lw-check-box" aria-hidden="true">
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M5,12.5 L10,17.5 L19.5,6.5" />
        </svg>
      </span>
      <span className="lw-check-text">
        {props.label}
        {props.note !== undefined && <span className="lw-check-note">{props.note}</span>}
      </span>
    </label>
  );
}
