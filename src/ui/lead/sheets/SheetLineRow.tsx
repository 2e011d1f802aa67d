import { useEffect, useRef, useState } from 'react';
import { unreachable } from '../../../base/assert.ts';
import {
  answerGone,
  answerOpen,
  answerSame,
  beginTyping,
  type DraftLine,
  type Reader,
} from '../../../protocol/sheet-draft.ts';
import type { SheetField } from '../../../protocol/sheet-finish.ts';
import {
  sheetLineSide,
  sheetLineTitle,
  sheetLineValue,
  sheetWords,
} from '../../../words/product-sheet-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { SheetLineFields } from './SheetLineFields.tsx';
import { useReader } from './use-sheets.ts';

const ANSWERS = ['open', 'same', 'gone', 'typed'] as const;
type Answer = (typeof ANSWERS)[number];

interface LineProps {
  readonly line: DraftLine;
  readonly problemAt: (field: SheetField) => string | undefined;
  readonly onChange: (line: DraftLine) => void;
  readonly onTakeOut: () => void;
  readonly onPlaces: () => void;
}

function answered(line: DraftLine, answer: Answer, reader: Reader): DraftLine {
  switch (answer) {
    case 'open':
      return answerOpen(line);
    case 'same':
      return answerSame(line, reader);
    case 'gone':
      return answerGone(line);
    case 'typed':
      return beginTyping(line, reader);
    default:
      return unreachable(answer);
  }
}

/** One number of the document: what it was, what was answered, and the fields of another one. */
export function SheetLineRow(props: LineProps) {
  const { line, problemAt, onChange } = props;
  const { was, answer } = line;
  const name = sheetWords.lineName({
    line: sheetLineTitle(was ?? line),
    value: was === null ? '' : sheetLineValue(was),
  });
  const fields = useRef<HTMLDivElement>(null);
  // Whoever just said that there is another number types it next; a page that is opened again moves nothing.
  const [isChosen, setChosen] = useState(false);
  useEffect(() => {
    if (isChosen) fields.current?.querySelector('input')?.focus();
  }, [isChosen]);
  const reader = useReader();
  const choose = (next: Answer): void => {
    setChosen(next === 'typed');
    onChange(answered(line, next, reader));
  };
  return (
    <li className="sheet-line" data-answer={answer}>
      <div className="sheet-was">
        {was === null ? <p>{name}</p> : <Before line={line} />}
        <Foot {...props} name={name} />
      </div>
      {was !== null && (
        <Segmented
          label={sheetWords.answerOf(name)}
          labelUnseen
          value={answer === 'kept' ? 'same' : answer}
          options={ANSWERS.map((value) => ({ value, label: sheetWords.answer[value] }))}
          onChange={choose}
        />
      )}
      {answer === 'typed' && (
        <div className="sheet-fields" ref={fields}>
          <SheetLineFields line={line} problemAt={problemAt} onChange={onChange} />
        </div>
      )}
    </li>
  );
}

/** The number as the revision before has it, in its words. */
function Before({ line: { was } }: Pick<LineProps, 'line'>) {
  if (was === null) return null;
  const { asWritten, page = '' } = was;
  return (
    <>
      <p>
        <strong>{sheetLineValue(was)}</strong> {sheetLineSide(was)}
      </p>
      <p className="sheet-quote">{sheetWords.quoted({ words: asWritten, page })}</p>
    </>
  );
}

function Foot({ line, name, onTakeOut, onPlaces }: LineProps & { readonly name: string }) {
  const times = useTimes();
  const { was, answer, read, spots } = line;
  if (answer === 'gone') return null;
  return (
    <p className="standing sheet-foot">
      <span>{sheetWords.spots(spots.length)}</span>
      <Button rank="quiet" name={sheetWords.spotsName(name)} onPress={onPlaces}>
        {sheetWords.spotsDo}
      </Button>
      {was === null && (
        <Button rank="quiet" name={sheetWords.takeOutName(name)} onPress={onTakeOut}>
          {sheetWords.takeOut}
        </Button>
      )}
      {read !== null && answer !== 'typed' && (
        <span>{sheetWords.kept({ by: read.by, on: times.dateOf(read.on) })}</span>
      )}
    </p>
  );
}
