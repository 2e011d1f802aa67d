import { type ReactNode, useDeferredValue, useEffect } from 'react';
import { useLocation } from 'wouter';
import type { Spot } from '../../../protocol/edit-types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useApp } from '../../shared/session-context.ts';
import { Approval } from '../Approval.tsx';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { EditorAround } from './EditorAround.tsx';
import { EditorEffect } from './EditorEffect.tsx';
import { EditorFigureSheet } from './EditorFigureSheet.tsx';
import { EditorFindings, FirstFault } from './EditorFindings.tsx';
import { EditorHead } from './EditorHead.tsx';
import { EditorNumbers } from './EditorNumbers.tsx';
import { EditorSteps } from './EditorSteps.tsx';
import { type DraftFinding, draftFindings } from './editor-findings.ts';
import { keptForms, useKept } from './editor-kept.ts';
import { cellOfSpot, type NumberCell } from './editor-model.ts';
import { type OpenDraft, useOpenDraft } from './open-draft.ts';
import './editor.css';
import './editor-forms.css';

const VIEWS = ['head', 'numbers', 'steps', 'around', 'effect', 'confirm'] as const;
type View = (typeof VIEWS)[number];

const OPEN_CELLS = keptForms<NumberCell | null>();
/** Where the parts are edited that stand beside the steps and windows. */
const VIEW_OF: Readonly<Partial<Record<Spot['part'], View>>> = {
  cautions: 'around',
  lists: 'around',
  slots: 'head',
  sources: 'around',
  stages: 'around',
  waysBack: 'around',
};

/** One draft of a protocol: its numbers, its steps, what it changes, and its confirmation. */
export function Editor(props: { readonly id: string; readonly view: string | undefined }) {
  const draft = useOpenDraft(props.id);
  if (draft === null) {
    return (
      <Frame place="protocols" title={editorWords.gone} actions={<LeadDeskActions />}>
        <EmptyState words={editorWords.gone} advice={editorWords.goneTodo} />
      </Frame>
    );
  }
  const view = VIEWS.find((name) => name === props.view) ?? 'numbers';
  return <EditorPage draft={draft} view={view} />;
}

/** Ctrl or Cmd with Z, and with Shift or Y to do it again; not while text is being typed. */
function useUndoKeys(draft: OpenDraft): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const isTyping =
        event.target instanceof HTMLElement && event.target.matches('input, textarea');
      if (isTyping || !(event.ctrlKey || event.metaKey)) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) draft.redo();
      else draft.undo();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [draft]);
}

/** The part of the draft in which a finding can be put right. */
function viewOf({ spot, place }: DraftFinding): View {
  if (spot !== null) return VIEW_OF[spot.part] ?? 'steps';
  return place.startsWith('protocol.steps') || place === 'protocol' ? 'steps' : 'head';
}

function useFindings(draft: OpenDraft): readonly DraftFinding[] {
  const prepared = useApp((s) => s.prepared);
  // Findings may lag behind typing by a moment; the numbers never do.
  const protocol = useDeferredValue(draft.protocol);
  return draftFindings(protocol, prepared);
}

function EditorPage({ draft, view }: { readonly draft: OpenDraft; readonly view: View }) {
  const [, navigate] = useLocation();
  const { value: cell, set: setCell } = useKept(OPEN_CELLS, draft.saved.id, () => null);
  const findings = useFindings(draft);
  useUndoKeys(draft);
  const { protocol } = draft;
  const goTo = (finding: DraftFinding): void => {
    const { spot } = finding;
    const found = spot === null ? null : cellOfSpot(protocol, spot);
    if (found !== null) setCell(found);
    else navigate(`/lead/draft/${draft.saved.id}/${viewOf(finding)}`);
  };
  return (
    <Frame place="protocols" title={protocol.title} actions={<LeadDeskActions />}>
      <Bar draft={draft} view={view}>
        <FirstFault findings={findings} onGo={goTo} />
      </Bar>
      {draft.words !== null && (
        <Banner tone="attention" words={editorWords.notSaved} advice={draft.words} />
      )}
      <EditorFindings findings={findings} onGo={goTo} />
      {view === 'head' && <EditorHead draft={draft} />}
      {view === 'numbers' && <EditorNumbers protocol={protocol} onPick={setCell} />}
      {view === 'steps' && <EditorSteps draft={draft} />}
      {view === 'around' && <EditorAround draft={draft} />}
      {view === 'effect' && <EditorEffect draft={draft} />}
      {view === 'confirm' && <Approval draft={draft} onPick={setCell} />}
      {cell !== null && (
        <EditorFigureSheet
          key={`${cell.spot.id} ${cell.spot.key}`}
          draft={draft}
          cell={cell}
          onClose={() => setCell(null)}
        />
      )}
    </Frame>
  );
}

function Bar(props: {
  readonly draft: OpenDraft;
  readonly view: View;
  readonly children: ReactNode;
}) {
  const { draft, view } = props;
  const [, navigate] = useLocation();
  const { history, id } = draft.saved;
  return (
    <div className="editor-bar">
      <Segmented
        label={editorWords.views}
        labelUnseen
        value={view}
        options={VIEWS.map((value) => ({ value, label: editorWords.view[value] }))}
        onChange={(next) => navigate(`/lead/draft/${id}/${next}`)}
      />
      <div className="editor-undo">
        <span className="lw-aside">
          {history.done === 0 ? editorWords.unchanged : editorWords.saved(history.done)}
        </span>
        <Button disabled={history.done === 0} onPress={draft.undo}>
          {editorWords.undo}
        </Button>
        <Button disabled={history.done === history.edits.length} onPress={draft.redo}>
          {editorWords.redo}
        </Button>
      </div>
      {props.children}
    </div>
  );
}
