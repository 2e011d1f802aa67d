import { type ReactNode, useId } from 'react';
import './controls.css';
import { partWords } from '../../words/part-words.ts';

/** What a control inside a field must take over, so that it is named and described. */
interface FieldControl {
  readonly id: string;
  readonly 'aria-describedby': string | undefined;
  readonly 'aria-invalid': true | undefined;
}

interface FieldProps {
  readonly label: string;
  readonly hint?: string | undefined;
  /** What is wrong, in words; undefined when nothing is. */
  readonly problem?: string | undefined;
  /** What the app understood: "1 min 30 s". */
  readonly readBack?: string | undefined;
  /** A unit after the control: "mW/cm²". */
  readonly unit?: string | undefined;
  readonly children: (control: FieldControl) => ReactNode;
}

/** A label, a control, a hint, what was understood and what is wrong. */
export function Field(props: FieldProps) {
  const id = useId();
  const notes = [
    props.hint === undefined ? undefined : `${id}-hint`,
    props.readBack === undefined ? undefined : `${id}-read`,
    props.problem === undefined ? undefined : `${id}-problem`,
  ].filter((note) => note !== undefined);
  return (
    <div className="lw-field" data-problem={props.problem !== undefined}>
      <label className="lw-field-label" htmlFor={id}>
        {props.label}
      </label>
      {props.hint !== undefined && (
        <p className="lw-field-hint" id={`${id}-hint`}>
          {props.hint}
        </p>
      )}
      <div className="lw-field-control">
        {props.children({
          id,
          'aria-describedby': notes.length > 0 ? notes.join(' ') : undefined,
          'aria-invalid': props.problem === undefined ? undefined : true,
        })}
        {props.unit !== undefined && <span className="lw-field-unit">{props.unit}</span>}
      </div>
      {props.readBack !== undefined && (
        <p className="lw-field-read" id={`${id}-read`}>
          {props.readBack}
        </p>
      )}
      {props.problem !== undefined && (
        <p className="lw-field-problem" id={`${id}-problem`}>
          {props.problem}
        </p>
      )}
    </div>
  );
}

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly hint?: string | undefined;
  readonly problem?: string | undefined;
  readonly readBack?: string | undefined;
  readonly unit?: string | undefined;
  readonly placeholder?: string | undefined;
  readonly type?: 'text' | 'password' | 'date' | 'search' | 'time' | undefined;
  readonly inputMode?: 'text' | 'decimal' | 'numeric' | undefined;
  readonly lines?: number | undefined;
  /** `short` for a figure, `full` for a sentence. */
  readonly width?: 'short' | 'full' | undefined;
  readonly autoComplete?: string | undefined;
}

/** What a date or time field answers while half of it, or no day of the calendar, stands in it. */
const HALF = '?';

/** A field with a line, or several lines, of text. */
export function TextField(props: TextFieldProps) {
  const isHalf = (props.type === 'date' || props.type === 'time') && props.value === HALF;
  const shared = {
    className: 'lw-input',
    // Shown empty, because the browser keeps what was typed of it and would clear it for our mark.
    value: isHalf ? '' : props.value,
    placeholder: props.placeholder,
    'data-width': props.width ?? 'full',
    autoComplete: props.autoComplete ?? 'off',
  };
  return (
    <Field
      label={props.label}
      hint={props.hint}
      problem={isHalf ? partWords.wholeDate : props.problem}
      readBack={isHalf ? undefined : props.readBack}
      unit={props.unit}
    >
      {(control) =>
        props.lines !== undefined && props.lines > 1 ? (
          <textarea
            {...shared}
            {...control}
            rows={props.lines}
            onChange={(event) => props.onChange(event.target.value)}
          />
        ) : (
          <input
            {...shared}
            {...control}
            type={props.type ?? 'text'}
            inputMode={props.inputMode}
            // A fifth digit would make it a year that nobody means.
            max={props.type === 'date' ? '9999-12-31' : undefined}
            onChange={(event) => props.onChange(event.target.value)}
            onBlur={(event) => {
              // The browser hands on nothing of half a date; it must not pass for none.
              const isBad = event.target.validity.badInput;
              if (isBad !== isHalf) props.onChange(isBad ? HALF : event.target.value);
            }}
          />
        )
      }
    </Field>
  );
}

interface SelectFieldProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly onChange: (value: string) => void;
  readonly hint?: string | undefined;
  readonly problem?: string | undefined;
  readonly readBack?: string | undefined;
}

/** A field that chooses one of many. */
export function SelectField(props: SelectFieldProps) {
  return (
    <Field label={props.label} hint={props.hint} problem={props.problem} readBack={props.readBack}>
      {(control) => (
        <select
          className="lw-input"
          {...control}
          value={props.value}
          onChange={(event) => props.onChange(event.target.value)}
        >
          {props.options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
