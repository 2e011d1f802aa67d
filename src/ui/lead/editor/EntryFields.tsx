import { unreachable } from '../../../base/assert.ts';
import { type FormPart, fieldShape } from '../../../protocol/schema-fields.ts';
import type { Moment } from '../../../protocol/types.ts';
import { choiceWords, fieldTexts, type WordedKey } from '../../../words/form-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Check, Segmented } from '../../parts/Segmented.tsx';
import { MomentFields } from './EditorMomentFields.tsx';

interface Choice {
  readonly value: string;
  readonly label: string;
}

interface EntryFieldsProps<P extends FormPart, K extends WordedKey<P> = WordedKey<P>> {
  readonly part: P;
  readonly keys: readonly K[];
  readonly entry: object;
  /** Undefined where an optional field is emptied. */
  readonly set: (key: K, value: unknown) => void;
  readonly problemAt?: ((key: K) => string | undefined) | undefined;
  /** What a field that names other entries can name; for a moment, the steps. */
  readonly choices?: { readonly [Key in K]?: readonly Choice[] } | undefined;
  /** What the app understood. */
  readonly readBack?: { readonly [Key in K]?: string | undefined } | undefined;
  /** In one row: every choice is a list to choose from. */
  readonly compact?: boolean | undefined;
}

/** More choices than this stand in a list instead of side by side. */
const SEGMENTS_MAX = 6;
/** Fields for more than a line of text. */
const LINES: Readonly<Record<string, number>> = {
  summary: 3,
  words: 3,
  citation: 3,
  proposal: 3,
  instruction: 2,
  why: 2,
  asWritten: 2,
};

/** Fields of an entry as the schema tells them: their kind, whether they are needed, their choices. */
export function EntryFields<P extends FormPart>(props: EntryFieldsProps<P>) {
  return props.keys.map((key) => <EntryField key={key} {...props} name={key} />);
}

function EntryField<P extends FormPart>(
  props: EntryFieldsProps<P> & { readonly name: WordedKey<P> },
) {
  const { part, name, entry } = props;
  const shape = fieldShape(part, name);
  const { none, ...texts } = fieldTexts(part, name);
  const value: unknown = Reflect.get(entry, name);
  const text = typeof value === 'string' ? value : '';
  const set = (next: unknown): void => props.set(name, next);
  const setText = (next: string): void =>
    set(shape.isNeeded || next.trim() !== '' ? next : undefined);
  const shared = { label: texts.label, hint: texts.hint, problem: props.problemAt?.(name) };
  const listed = props.choices?.[name] ?? [];
  switch (shape.kind) {
    case 'text':
      return (
        <TextField
          {...shared}
          lines={LINES[name]}
          value={text}
          readBack={props.readBack?.[name]}
          onChange={setText}
        />
      );
    case 'date':
      return <TextField {...shared} type="date" value={text} onChange={setText} />;
    case 'flag':
      return (
        <Check
          label={texts.label}
          checked={value === true}
          onChange={(isOn) => set(isOn || (shape.isNeeded ? false : undefined))}
        />
      );
    case 'reference': {
      const options = none === undefined ? listed : [{ value: '', label: none }, ...listed];
      return <SelectField {...shared} value={text} options={options} onChange={setText} />;
    }
    case 'moment':
      return (
        <MomentFields
          {...shared}
          steps={listed}
          none={shape.isNeeded ? undefined : none}
          moment={isMoment(value) ? value : undefined}
          onChange={set}
        />
      );
    case 'choice': {
      const codes = shape.options.map((code) => ({
        value: code,
        label: choiceWords(part, name, code),
      }));
      const options = none === undefined ? codes : [{ value: '', label: none }, ...codes];
      const isList = props.compact === true || options.length > SEGMENTS_MAX;
      if (isList) {
        return <SelectField {...shared} value={text} options={options} onChange={setText} />;
      }
      return (
        <>
          <Segmented label={texts.label} value={text} options={options} onChange={setText} />
          <FieldProblem words={shared.problem} />
        </>
      );
    }
    case 'other':
      return null;
    default:
      return unreachable(shape);
  }
}

/** What is wrong with a control that has no place for it of its own. */
export function FieldProblem({ words }: { readonly words: string | undefined }) {
  if (words === undefined) return null;
  return (
    <p className="lw-field-problem" role="status">
      {words}
    </p>
  );
}

function isMoment(value: unknown): value is Moment {
  return typeof value === 'object' && value !== null && 'step' in value && 'edge' in value;
}
