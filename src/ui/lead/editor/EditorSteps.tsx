import { freeId } from '../../../protocol/edit.ts';
import type { Step, Window } from '../../../protocol/types.ts';
import { type EntryDeed, editorWords } from '../../../words/editor-words.ts';
import { protocolWords, stepAsks, whoWords, windowAsks } from '../../../words/protocol-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { ProtocolPicture } from '../../shared/ProtocolPicture.tsx';
import { sequenceOf, windowEnds } from '../../shared/protocol-model.ts';
import { EditorStepSheet } from './EditorStepSheet.tsx';
import { EditorWindowSheet } from './EditorWindowSheet.tsx';
import { keptForms, useKept } from './editor-kept.ts';
import { newStep, newWindow, type OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

/** The whole sequence: adding, ordering, doubling and removing, with its picture beside it. */
export function EditorSteps({ draft }: { readonly draft: OpenDraft }) {
  return (
    <div className="editor-sides">
      <div className="editor-lists">
        <Steps draft={draft} />
        <Windows draft={draft} />
      </div>
      <div className="editor-picture">
        <Section title={editorWords.picture} lede={editorWords.pictureLede}>
          <ProtocolPicture sequence={sequenceOf(draft.protocol)} />
        </Section>
      </div>
    </div>
  );
}

const OPEN_STEPS = keptForms<OpenEntry<Step> | null>();
const OPEN_WINDOWS = keptForms<OpenEntry<Window> | null>();

function Steps({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  const { value: open, set: setOpen } = useKept(OPEN_STEPS, draft.saved.id, () => null);
  return (
    <Section title={editorWords.stepsTitle}>
      <ol className="editor-items" aria-label={editorWords.stepsTitle}>
        {protocol.steps.map((step, index) => (
          <StepRow
            key={step.id}
            draft={draft}
            step={step}
            index={index}
            onEdit={() => setOpen({ item: step, isNew: false })}
          />
        ))}
      </ol>
      <div>
        <Button onPress={() => setOpen({ item: newStep(protocol), isNew: true })}>
          {editorWords.addStep}
        </Button>
      </div>
      {open !== null && (
        <EditorStepSheet
          key={open.item.id}
          draft={draft}
          open={open}
          onClose={() => setOpen(null)}
        />
      )}
    </Section>
  );
}

function stepNote({ by, per }: Step, asks: string): string {
  const { roles, scopes, whoAsks } = protocolWords;
  return whoAsks({ by: roles[by], per: scopes[per], asks });
}

function StepRow(props: {
  readonly draft: OpenDraft;
  readonly step: Step;
  readonly index: number;
  readonly onEdit: () => void;
}) {
  const { draft, step, index, onEdit } = props;
  const { steps } = draft.protocol;
  const { id, title } = step;
  const name = (deed: EntryDeed) => editorWords.named[deed](title);
  const move = (before: string | null) => draft.edit({ do: 'move', part: 'steps', id, before });
  const double = () =>
    draft.edit({ do: 'duplicate-step', step: id, newId: freeId(steps, `${id}-copy`) });
  const asks = stepAsks(step, draft.protocol);
  return (
    <li>
      <div>
        <strong>{title}</strong>
        <span className="numbers-note">{asks === '' ? whoWords(step) : stepNote(step, asks)}</span>
      </div>
      <div className="editor-deeds">
        <Button
          rank="quiet"
          name={name('up')}
          disabled={index === 0}
          onPress={() => move(steps[index - 1]?.id ?? null)}
        >
          {editorWords.up}
        </Button>
        <Button
          rank="quiet"
          name={name('down')}
          disabled={index === steps.length - 1}
          onPress={() => move(steps[index + 2]?.id ?? null)}
        >
          {editorWords.down}
        </Button>
        <Button rank="quiet" name={name('duplicate')} onPress={double}>
          {editorWords.duplicate}
        </Button>
        <Button
          rank="quiet"
          name={name('remove')}
          onPress={() => draft.edit({ do: 'remove', part: 'steps', id })}
        >
          {editorWords.remove}
        </Button>
        <Button rank="quiet" name={name('edit')} onPress={onEdit}>
          {editorWords.edit}
        </Button>
      </div>
    </li>
  );
}

function Windows({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  const { value: open, set: setOpen } = useKept(OPEN_WINDOWS, draft.saved.id, () => null);
  return (
    <Section title={editorWords.windows} lede={editorWords.windowsLede}>
      <ul className="editor-items" aria-label={editorWords.windows}>
        {protocol.windows.map((window) => {
          const { id, title } = window;
          const name = (deed: EntryDeed) => editorWords.named[deed](title);
          const ends = windowEnds(protocol, window);
          return (
            <li key={id}>
              <div>
                <strong>{title}</strong>
                <span className="numbers-note">
                  {protocolWords.windowEndsAsks({ ...ends, asks: windowAsks(window) })}
                </span>
              </div>
              <div className="editor-deeds">
                <Button
                  rank="quiet"
                  name={name('remove')}
                  onPress={() => draft.edit({ do: 'remove', part: 'windows', id })}
                >
                  {editorWords.remove}
                </Button>
                <Button
                  rank="quiet"
                  name={name('edit')}
                  onPress={() => setOpen({ item: window, isNew: false })}
                >
                  {editorWords.edit}
                </Button>
              </div>
            </li>
          );
        })}
      </ul>
      <div>
        <Button
          disabled={protocol.steps.length < 2}
          onPress={() => setOpen({ item: newWindow(protocol), isNew: true })}
        >
          {editorWords.addWindow}
        </Button>
      </div>
      {open !== null && (
        <EditorWindowSheet
          key={open.item.id}
          draft={draft}
          open={open}
          onClose={() => setOpen(null)}
        />
      )}
    </Section>
  );
}
