import {
  compareWords,
  type DraftLine,
  typeNumber,
  typeUnit,
  typeWords,
} from '../../../protocol/sheet-draft.ts';
import { readSheetEntry } from '../../../protocol/sheet-entry.ts';
import type { SheetField } from '../../../protocol/sheet-finish.ts';
import {
  GROUP_UNITS,
  SHEET_BOUNDS,
  SHEET_UNITS,
  TEMPERED_GROUPS,
} from '../../../protocol/sheet-types.ts';
import { sheetWords, understoodWords } from '../../../words/product-sheet-words.ts';
import { Disclosure } from '../../parts/Facts.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Check, Segmented } from '../../parts/Segmented.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { useReader } from './use-sheets.ts';

interface FieldsProps {
  readonly line: DraftLine;
  readonly problemAt: (field: SheetField) => string | undefined;
  readonly onChange: (line: DraftLine) => void;
}

/** A number with the words of the document beside it, and what it is. */
export function SheetLineFields(props: FieldsProps) {
  const { line, problemAt, onChange } = props;
  const reader = useReader();
  const read = readSheetEntry(line.text, line.unit);
  const problem = problemAt('text');
  const pageBefore = line.was?.page ?? '';
  const isProposed = !line.areWordsRead;
  const proposed = line.read === null ? sheetWords.typedElsewhere : sheetWords.wordsProposed;
  return (
    <>
      <TextField
        label={sheetWords.number}
        width="short"
        unit={sheetWords.unit[line.unit]}
        value={line.text}
        onChange={(text) => onChange(typeNumber(line, text, reader))}
        problem={problem}
        readBack={
          read.ok && problem === undefined ? understoodWords(read.value, line.unit) : undefined
        }
      />
      <div className="sheet-words">
        <TextField
          label={sheetWords.words}
          hint={isProposed ? proposed : undefined}
          lines={2}
          value={line.asWritten}
          onChange={(asWritten) => onChange(typeWords(line, asWritten))}
          problem={problemAt('asWritten')}
        />
        {isProposed && (
          <Check
            label={sheetWords.compared}
            checked={false}
            onChange={() => onChange(compareWords(line, reader))}
          />
        )}
      </div>
      <TextField
        label={sheetWords.page}
        width="short"
        hint={
          pageBefore === '' || line.page === pageBefore ? undefined : sheetWords.before(pageBefore)
        }
        value={line.page}
        onChange={(page) => onChange({ ...line, page })}
      />
      {line.was === null ? (
        <Kind {...props} />
      ) : (
        <Disclosure
          summary={sheetWords.more}
          open={problemAt('temperature') !== undefined || undefined}
        >
          <Kind {...props} />
        </Disclosure>
      )}
    </>
  );
}

/** What the number is about, which side of it is meant, and in which unit. */
function Kind({ line, problemAt, onChange }: FieldsProps) {
  const units = GROUP_UNITS[line.group];
  const unit = (value: string): void => {
    const known = SHEET_UNITS.find((one) => one === value);
    if (known !== undefined) onChange(typeUnit(line, known));
  };
  return (
    <div className="sheet-kind">
      <TextField
        label={sheetWords.lineTitle}
        hint={sheetWords.lineTitleHint}
        value={line.title}
        onChange={(title) => onChange({ ...line, title })}
      />
      <Segmented
        label={sheetWords.boundLabel}
        value={line.bound}
        options={choicesOf(SHEET_BOUNDS, sheetWords.bound)}
        onChange={(bound) => onChange({ ...line, bound })}
      />
      {units.length > 1 && (
        <SelectField
          label={sheetWords.unitLabel}
          value={line.unit}
          options={units.map((value) => ({ value, label: sheetWords.unit[value] }))}
          onChange={unit}
        />
      )}
      {TEMPERED_GROUPS.has(line.group) && (
        <TextField
          label={sheetWords.temperature}
          width="short"
          value={line.temperature}
          onChange={(temperature) => onChange({ ...line, temperature })}
          problem={problemAt('temperature')}
        />
      )}
    </div>
  );
}
