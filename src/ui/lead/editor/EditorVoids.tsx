import { withField } from '../../../protocol/schema-fields.ts';
import type { Protocol, Step, WayBack } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { EntryFields } from './EntryFields.tsx';
import type { FormProblems } from './editor-form-problems.ts';
import { stepChoices } from './editor-step-names.ts';
import type { OpenDraft } from './open-draft.ts';

type Voided = WayBack['voids'][number];

/** What a way back makes undone: which steps, on which subjects, and under which condition. */
export function EditorVoids(props: {
  readonly draft: OpenDraft;
  readonly way: WayBack;
  readonly problems: FormProblems;
  readonly onChange: (voids: readonly Voided[]) => void;
}) {
  const { draft, way, problems, onChange } = props;
  const { voids } = way;
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
          number={index + 1}
          draft={draft}
          voided={voided}
          problemAt={(key) => problems.at(`voids[${index}].${key}`)}
          onChange={(next) => {
            const step = steps.find(({ id }) => id === next.step);
            const link = next.step === voided.step ? next.link : naturalLink(step, way);
            onChange(voids.with(index, { ...next, link }));
          }}
          onRemove={() => onChange(voids.filter((_, i) => i !== index))}
        />
      ))}
      <Button
        disabled={steps.length === 0}
        onPress={() => onChange([...voids, nextVoided(draft.protocol, way)])}
      >
        {aroundWords.addVoid}
      </Button>
    </fieldset>
  );
}

/**
 * What is lost with one step is mostly lost with those behind it: the next one in order, on what it
 * is done to.
 */
function nextVoided({ steps }: Protocol, way: Pick<WayBack, 'voids' | 'per' | 'from'>): Voided {
  const last = way.voids.at(-1)?.step;
  const at = steps.findIndex(({ id }) => id === last);
  const begun = steps.findIndex(({ id }) => id === way.from?.step);
  const step = steps[at < 0 ? Math.max(begun, 0) : at + 1] ?? steps[at];
  return { step: step?.id ?? '', link: naturalLink(step, way) };
}

/** The subject itself, or what belongs to it where the step is done to something else. */
function naturalLink(step: Step | undefined, { per }: Pick<WayBack, 'per'>): Voided['link'] {
  return step?.per === per ? 'same' : 'linked';
}

function VoidRow(props: {
  readonly number: number;
  readonly draft: OpenDraft;
  readonly voided: Voided;
  readonly problemAt: (key: keyof Voided) => string | undefined;
  readonly onChange: (voided: Voided) => void;
  readonly onRemove: () => void;
}) {
  const { draft, voided, problemAt, onChange } = props;
  const steps = stepChoices(draft.protocol.steps);
  const title = steps.find(({ value }) => value === voided.step)?.label ?? voided.step;
  return (
    <fieldset className="editor-void">
      <legend className="lw-unseen">{aroundWords.voidOne(props.number)}</legend>
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
    </fieldset>
  );
}
