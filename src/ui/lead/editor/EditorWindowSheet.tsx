import type { Edit } from '../../../protocol/edit-types.ts';
import type { Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Check, Segmented } from '../../parts/Segmented.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { MomentFields } from './EditorMomentFields.tsx';
import { choicesOf } from './editor-choices.ts';
import { useForm } from './editor-form.ts';
import type { FormProblems } from './editor-form-problems.ts';
import { keptForms } from './editor-kept.ts';
import { fieldEdits } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const MATCHES = ['same', 'linked'] as const;
const PROTECTS = ['shield', 'working', 'wet', 'hold', 'warm', 'other'] as const;
const SEVERITIES = ['note', 'warning', 'serious'] as const;

interface FormProps {
  readonly draft: OpenDraft;
  readonly window: Window;
  readonly problems: FormProblems;
  readonly onChange: (window: Window) => void;
}

const WINDOW_FORMS = keptForms<Window>();

function windowEdits(
  o: { readonly window: Window; readonly isNew: boolean },
  now: Window,
): readonly Edit[] {
  const after = { ...now, title: now.title.trim() };
  return o.isNew
    ? [{ do: 'add', part: 'windows', item: after, before: null }]
    : fieldEdits('windows', o.window, after);
}

/** Everything of a window but its numbers, which are edited with their basis. */
export function EditorWindowSheet(props: {
  readonly draft: OpenDraft;
  readonly window: Window;
  readonly isNew: boolean;
  readonly onClose: () => void;
}) {
  const { draft, isNew } = props;
  const form = useForm(WINDOW_FORMS, {
    draft,
    part: 'windows',
    id: props.window.id,
    fields: ['title', 'from', 'to', 'match'],
    first: () => props.window,
    editsOf: (now) => windowEdits(props, now),
    onClose: props.onClose,
  });
  const { value: window, set: setWindow, problems } = form;
  const fields = { draft, window, problems, onChange: setWindow };
  return (
    <EditorFormSheet
      title={isNew ? editorWords.newWindow : editorWords.windowSheet(props.window.title)}
      problems={problems}
      tries={form.tries}
      onApply={form.apply}
      onClose={form.close}
    >
      <TextField
        label={editorWords.title}
        value={window.title}
        problem={problems.at('title')}
        onChange={(title) => setWindow({ ...window, title })}
      />
      <MomentFields
        draft={draft}
        label={editorWords.from}
        moment={window.from}
        problem={problems.at('from')}
        onChange={(from) => setWindow({ ...window, from })}
      />
      <MomentFields
        draft={draft}
        label={editorWords.to}
        moment={window.to}
        problem={problems.at('to')}
        onChange={(to) => setWindow({ ...window, to })}
      />
      <Meaning {...fields} />
    </EditorFormSheet>
  );
}

function Meaning({ draft, window, problems, onChange }: FormProps) {
  const matchProblem = problems.at('match');
  return (
    <>
      <Segmented
        label={editorWords.match}
        value={window.match}
        options={choicesOf(MATCHES, editorWords.linkWords)}
        onChange={(match) => onChange({ ...window, match })}
      />
      {matchProblem !== undefined && (
        <p className="lw-field-problem" role="status">
          {matchProblem}
        </p>
      )}
      <Segmented
        label={editorWords.protects}
        value={window.protects}
        options={choicesOf(PROTECTS, protocolWords.protects)}
        onChange={(protects) => onChange({ ...window, protects })}
      />
      <Segmented
        label={editorWords.severity}
        value={window.severity}
        options={choicesOf(SEVERITIES, protocolWords.severities)}
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
