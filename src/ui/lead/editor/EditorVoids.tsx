import { withField } from '../../../protocol/schema-fields.ts';
import type { WayBack } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { titledChoices } from '../../shared/choices.ts';
import { EntryFields } from './EntryFields.tsx';
import type { FormProblems } from './editor-form-problems.ts';
import type { OpenDraft } from './open-draft.ts';

type Voided = WayBack['voids'][number];

/** What a way back makes undone: which steps, on which subjects, and under which condition. */
export function EditorVoids(props: {
  readonly draft: OpenDraft;
  readonly voids: readonly Voided[];
  readonly problems: FormProblems;
  readonly onChange: (voids: readonly Voided[]) => void;
}) {
  const { draft, voids, problems, onChange } = props;
  const { steps } = draft.protocol;
  return (
    <fieldset className="editor-waits">
      <legend>{aroundWords.voids}</legend>
      {voids.length === 0 && <p className="lw-aside">{aroundWords.nothingAgain}</p>}
      {voids.map((voided, index) => (
        <VoidRow
          // A step may be voided twice, on two links: only the place tells them apart.
          // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
          key={index}
          draft={draft}
          voided={voided}
          problemAt={(key) => problems.at(`voids[${index}].${key}`)}
          onChange={(next) => onChange(voids.map((old, i) => (i === index ? next : old)))}
          onRemove={() => onChange(voids.filter((_, i) => i !== index))}
        />
      ))}
      <Button
        disabled={steps.length === 0}
        onPress={() => onChange([...voids, { step: steps[0]?.id ?? '', link: 'same' }])}
      >
        {aroundWords.addVoid}
      </Button>
    </fieldset>
  );
}

function VoidRow(props: {
  readonly draft: OpenDraft;
  readonly voided: Voided;
  readonly problemAt: (key: keyof Voided) => string | undefined;
  readonly onChange: (voided: Voided) => void;
  readonly onRemove: () => void;
}) {
  const { draft, voided, problemAt, onChange } = props;
  const steps = titledChoices(draft.protocol.steps);
  const title = steps.find(({ value }) => value === voided.step)?.label ?? voided.step;
  return (
    <div className="editor-void">
      <EntryFields
        part="voids"
        keys={['step', 'link', 'onlyAfter']}
        entry={voided}
        set={(key, value) => onChange(withField(voided, key, value))}
        problemAt={problemAt}
        choices={{ step: steps, onlyAfter: steps }}
        compact
      />
      <Button rank="quiet" name={editorWords.named.remove(title)} onPress={props.onRemove}>
        {editorWords.remove}
      </Button>
    </div>
  );
}
