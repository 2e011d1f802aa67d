import { useState } from 'react';
import type { Edit } from '../../protocol/edit-types.ts';
import type { Moment, Window } from '../../protocol/types.ts';
import { Button } from '../parts/Button.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Check, Segmented } from '../parts/Segmented.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { editorWords } from '../words/editor-words.ts';
import { PROTECTS_WORDS, SEVERITY_WORDS } from '../words/protocol-words.ts';
import { choicesOf } from './editor-choices.ts';
import type { DraftDesk } from './editor-draft.ts';
import { fieldEdits } from './editor-new.ts';

const EDGES = ['start', 'end'] as const;
const MATCHES = ['same', 'linked'] as const;
const PROTECTS = ['shield', 'working', 'wet', 'hold', 'warm', 'other'] as const;
const SEVERITIES = ['note', 'warning', 'serious'] as const;

interface FormProps {
  readonly draft: DraftDesk;
  readonly window: Window;
  readonly onChange: (window: Window) => void;
}

/** Everything of a window but its numbers, which are edited with their basis. */
export function EditorWindowSheet(props: {
  readonly draft: DraftDesk;
  readonly window: Window;
  readonly isNew: boolean;
  readonly onClose: () => void;
}) {
  const { draft, isNew, onClose } = props;
  const [window, setWindow] = useState(props.window);
  const apply = (): void => {
    const edits: readonly Edit[] = isNew
      ? [{ do: 'add', part: 'windows', item: window, before: null }]
      : fieldEdits('windows', props.window, window);
    if (draft.editAll(edits)) onClose();
  };
  const form = { draft, window, onChange: setWindow };
  return (
    <Sheet
      open
      width="wide"
      title={isNew ? editorWords.newWindow : `${editorWords.windowSheet}: ${props.window.title}`}
      onClose={onClose}
      foot={
        <Button rank="main" disabled={window.title.trim() === ''} onPress={apply}>
          {editorWords.apply}
        </Button>
      }
    >
      <TextField
        label={editorWords.title}
        value={window.title}
        onChange={(title) => setWindow({ ...window, title })}
      />
      <MomentFields
        draft={draft}
        label={editorWords.from}
        moment={window.from}
        onChange={(from) => setWindow({ ...window, from })}
      />
      <MomentFields
        draft={draft}
        label={editorWords.to}
        moment={window.to}
        onChange={(to) => setWindow({ ...window, to })}
      />
      <Meaning {...form} />
    </Sheet>
  );
}

function MomentFields(props: {
  readonly draft: DraftDesk;
  readonly label: string;
  readonly moment: Moment;
  readonly onChange: (moment: Moment) => void;
}) {
  const { draft, label, moment, onChange } = props;
  return (
    <div className="editor-wait">
      <SelectField
        label={label}
        value={moment.step}
        options={draft.protocol.steps.map(({ id, title }) => ({ value: id, label: title }))}
        onChange={(step) => onChange({ ...moment, step })}
      />
      <Segmented
        label={`${label}: ${editorWords.edgeOf}`}
        labelUnseen
        value={moment.edge}
        options={choicesOf(EDGES, editorWords.edge)}
        onChange={(edge) => onChange({ ...moment, edge })}
      />
    </div>
  );
}

function Meaning({ draft, window, onChange }: FormProps) {
  return (
    <>
      <Segmented
        label={editorWords.match}
        value={window.match}
        options={choicesOf(MATCHES, editorWords.linkWords)}
        onChange={(match) => onChange({ ...window, match })}
      />
      <Segmented
        label={editorWords.protects}
        value={window.protects}
        options={choicesOf(PROTECTS, PROTECTS_WORDS)}
        onChange={(protects) => onChange({ ...window, protects })}
      />
      <Segmented
        label={editorWords.severity}
        value={window.severity}
        options={choicesOf(SEVERITIES, SEVERITY_WORDS)}
        onChange={(severity) => onChange({ ...window, severity })}
      />
      <SelectField
        label={editorWords.wayBack}
        value={window.wayBack ?? ''}
        options={[
          { value: '', label: editorWords.noWayBack },
          ...draft.protocol.waysBack.map(({ id, title }) => ({ value: id, label: title })),
        ]}
        onChange={(wayBack) => {
          const { wayBack: _, ...rest } = window;
          onChange(wayBack === '' ? rest : { ...rest, wayBack });
        }}
      />
      <Check
        label={editorWords.amber}
        checked={window.amber === true}
        onChange={(isOn) => {
          const { amber: _, ...rest } = window;
          onChange(isOn ? { ...rest, amber: true } : rest);
        }}
      />
    </>
  );
}
