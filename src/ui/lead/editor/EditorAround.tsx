import { stepsOfCaution, stepsOfStage } from '../../../protocol/edit-uses.ts';
import type { Source, WayBack } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { basisWords } from '../../../words/basis-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { EditorCautionSheet } from './EditorCautionSheet.tsx';
import { EditorEntries } from './EditorEntries.tsx';
import { EditorLanguage } from './EditorLanguage.tsx';
import { EditorSourceSheet } from './EditorSourceSheet.tsx';
import { EditorStageSheet } from './EditorStageSheet.tsx';
import { EditorTakeOut } from './EditorTakeOut.tsx';
import { EditorWayBackSheet } from './EditorWayBackSheet.tsx';
import {
  type Caution,
  newCaution,
  newSource,
  newStage,
  newWayBack,
  type Stage,
  shortWords,
  sourceShort,
  sourceUses,
} from './editor-around-model.ts';
import { keptForms, useKept } from './editor-kept.ts';
import type { OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

interface PartProps {
  readonly draft: OpenDraft;
}

const OPEN_CAUTIONS = keptForms<OpenEntry<Caution> | null>();
const OPEN_SOURCES = keptForms<OpenEntry<Source> | null>();
const OPEN_STAGES = keptForms<OpenEntry<Stage> | null>();
const OPEN_WAYS_BACK = keptForms<OpenEntry<WayBack> | null>();
const TO_TAKE_OUT = keptForms<WayBack | null>();

/** What stands around the steps: cautions, ways back, sources, stages, language. */
export function EditorAround({ draft }: PartProps) {
  return (
    <div className="editor-sides">
      <div className="editor-lists">
        <Cautions draft={draft} />
        <WaysBack draft={draft} />
      </div>
      <div className="editor-lists">
        <Sources draft={draft} />
        <Stages draft={draft} />
        <EditorLanguage draft={draft} />
      </div>
    </div>
  );
}

function Cautions({ draft }: PartProps) {
  const { protocol } = draft;
  const open = useKept(OPEN_CAUTIONS, draft.saved.id, () => null);
  const rows = protocol.cautions.map((item) => {
    const steps = stepsOfCaution(protocol, item.id).map(({ title }) => title);
    return {
      id: item.id,
      name: shortWords(item.words),
      words: item.words,
      note: steps.length === 0 ? aroundWords.saidAtNone : aroundWords.saidAtSteps(steps),
      refusal: null,
      onEdit: () => open.set({ item, isNew: false }),
      onRemove: () => draft.edit({ do: 'remove', part: 'cautions', id: item.id }),
    };
  });
  return (
    <>
      <EditorEntries
        title={aroundWords.cautions}
        lede={aroundWords.cautionsLede}
        rows={rows}
        add={aroundWords.addCaution}
        onAdd={() => open.set({ item: newCaution(protocol), isNew: true })}
      />
      {open.value !== null && (
        <EditorCautionSheet draft={draft} open={open.value} onClose={() => open.set(null)} />
      )}
    </>
  );
}

function wayNote(draft: OpenDraft, way: WayBack): string {
  const { steps, sources } = draft.protocol;
  const titles = way.voids.map(({ step }) => steps.find(({ id }) => id === step)?.title ?? step);
  const again = titles.length === 0 ? aroundWords.nothingAgain : aroundWords.again(titles);
  return aroundWords.wayBackNote({
    mishap: protocolWords.mishaps[way.mishap],
    per: protocolWords.scopes[way.per],
    again,
    basis: basisWords(way.basis, sources).whole,
  });
}

function WaysBack({ draft }: PartProps) {
  const { protocol } = draft;
  const open = useKept(OPEN_WAYS_BACK, draft.saved.id, () => null);
  const out = useKept(TO_TAKE_OUT, draft.saved.id, () => null);
  const rows = protocol.waysBack.map((item) => ({
    id: item.id,
    name: item.title,
    words: aroundWords.wayBackLine(item),
    note: wayNote(draft, item),
    refusal: null,
    onEdit: () => open.set({ item, isNew: false }),
    onRemove: () => out.set(item),
  }));
  return (
    <>
      <EditorEntries
        title={aroundWords.waysBack}
        lede={aroundWords.waysBackLede}
        rows={rows}
        add={aroundWords.addWayBack}
        onAdd={() => open.set({ item: newWayBack(protocol), isNew: true })}
      />
      {open.value !== null && (
        <EditorWayBackSheet draft={draft} open={open.value} onClose={() => open.set(null)} />
      )}
      {out.value !== null && (
        <EditorTakeOut draft={draft} way={out.value} onClose={() => out.set(null)} />
      )}
    </>
  );
}

function Sources({ draft }: PartProps) {
  const { protocol } = draft;
  const open = useKept(OPEN_SOURCES, draft.saved.id, () => null);
  const rows = protocol.sources.map((item) => {
    const uses = sourceUses(protocol, item.id);
    const used = aroundWords.usedBy(uses.length);
    return {
      id: item.id,
      name: sourceShort(item),
      words: item.citation,
      note: item.doi === undefined ? used : aroundWords.sourceNote({ doi: item.doi, uses: used }),
      refusal: uses.length === 0 ? null : aroundWords.sourceInUse(uses),
      onEdit: () => open.set({ item, isNew: false }),
      onRemove: () => draft.edit({ do: 'remove', part: 'sources', id: item.id }),
    };
  });
  return (
    <>
      <EditorEntries
        title={aroundWords.sources}
        lede={aroundWords.sourcesLede}
        rows={rows}
        add={aroundWords.addSource}
        onAdd={() => open.set({ item: newSource(protocol), isNew: true })}
      />
      {open.value !== null && (
        <EditorSourceSheet draft={draft} open={open.value} onClose={() => open.set(null)} />
      )}
    </>
  );
}

function Stages({ draft }: PartProps) {
  const { protocol } = draft;
  const { stages } = protocol;
  const open = useKept(OPEN_STAGES, draft.saved.id, () => null);
  const rows = stages.map((item, index) => {
    const steps = stepsOfStage(protocol, item.id).map(({ title }) => title);
    const move = (before: string | null) => () =>
      draft.edit({ do: 'move', part: 'stages', id: item.id, before });
    return {
      id: item.id,
      name: item.title,
      words: item.title,
      note: aroundWords.stageSteps(steps.length),
      refusal: steps.length === 0 ? null : aroundWords.stageInUse(steps),
      onEdit: () => open.set({ item, isNew: false }),
      onRemove: () => draft.edit({ do: 'remove', part: 'stages', id: item.id }),
      onUp: index === 0 ? null : move(stages[index - 1]?.id ?? null),
      onDown: index === stages.length - 1 ? null : move(stages[index + 2]?.id ?? null),
    };
  });
  return (
    <>
      <EditorEntries
        title={aroundWords.stages}
        lede={aroundWords.stagesLede}
        rows={rows}
        add={aroundWords.addStage}
        onAdd={() => open.set({ item: newStage(protocol), isNew: true })}
      />
      {open.value !== null && (
        <EditorStageSheet draft={draft} open={open.value} onClose={() => open.set(null)} />
      )}
    </>
  );
}
