import { stepsOfCaution, stepsOfStage } from '../../../protocol/edit-uses.ts';
import type { Source, WayBack } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { basisWords } from '../../../words/basis-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { EditorCautionSheet } from './EditorCautionSheet.tsx';
import { EditorLanguage } from './EditorLanguage.tsx';
import { EditorLists } from './EditorLists.tsx';
import { EditorPart } from './EditorPart.tsx';
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
import { deedsIn } from './editor-moves.ts';
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
        <EditorLists draft={draft} />
        <EditorLanguage draft={draft} />
      </div>
    </div>
  );
}

function Cautions({ draft }: PartProps) {
  const { protocol } = draft;
  return (
    <EditorPart
      draft={draft}
      items={protocol.cautions}
      kept={OPEN_CAUTIONS}
      title={aroundWords.cautions}
      lede={aroundWords.cautionsLede}
      row={(item) => {
        const steps = stepsOfCaution(protocol, item.id).map(({ title }) => title);
        return {
          name: shortWords(item.words),
          words: item.words,
          note: steps.length === 0 ? aroundWords.saidAtNone : aroundWords.saidAtSteps(steps),
          refusal: null,
        };
      }}
      deeds={deedsIn(draft, 'cautions')}
      add={aroundWords.addCaution}
      newItem={newCaution}
      sheet={(o) => <EditorCautionSheet {...o} />}
    />
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
  const { waysBack } = draft.protocol;
  const out = useKept(TO_TAKE_OUT, draft.saved.id, () => null);
  const deeds = deedsIn(draft, 'waysBack');
  return (
    <>
      <EditorPart
        draft={draft}
        items={waysBack}
        kept={OPEN_WAYS_BACK}
        title={aroundWords.waysBack}
        lede={aroundWords.waysBackLede}
        row={(item) => ({
          name: item.title,
          words: aroundWords.wayBackLine(item),
          note: wayNote(draft, item),
          refusal: null,
        })}
        deeds={(index) => ({
          ...deeds(index),
          onRemove: () => out.set(waysBack[index] ?? null),
        })}
        add={aroundWords.addWayBack}
        newItem={newWayBack}
        sheet={(o) => <EditorWayBackSheet {...o} />}
      />
      {out.value !== null && (
        <EditorTakeOut draft={draft} way={out.value} onClose={() => out.set(null)} />
      )}
    </>
  );
}

function Sources({ draft }: PartProps) {
  const { protocol } = draft;
  return (
    <EditorPart
      draft={draft}
      items={protocol.sources}
      kept={OPEN_SOURCES}
      title={aroundWords.sources}
      lede={aroundWords.sourcesLede}
      row={(item) => {
        const uses = sourceUses(protocol, item.id);
        const used = aroundWords.usedBy(uses.length);
        return {
          name: sourceShort(item),
          words: item.citation,
          note:
            item.doi === undefined ? used : aroundWords.sourceNote({ doi: item.doi, uses: used }),
          refusal: uses.length === 0 ? null : aroundWords.sourceInUse(uses),
        };
      }}
      deeds={deedsIn(draft, 'sources')}
      add={aroundWords.addSource}
      newItem={newSource}
      sheet={(o) => <EditorSourceSheet {...o} />}
    />
  );
}

function Stages({ draft }: PartProps) {
  const { protocol } = draft;
  return (
    <EditorPart
      draft={draft}
      items={protocol.stages}
      kept={OPEN_STAGES}
      title={aroundWords.stages}
      lede={aroundWords.stagesLede}
      row={(item) => {
        const steps = stepsOfStage(protocol, item.id).map(({ title }) => title);
        return {
          name: item.title,
          words: item.title,
          note: aroundWords.stageSteps(steps.length),
          refusal: steps.length === 0 ? null : aroundWords.stageInUse(steps),
        };
      }}
      deeds={deedsIn(draft, 'stages')}
      add={aroundWords.addStage}
      newItem={newStage}
      sheet={(o) => <EditorStageSheet {...o} />}
    />
  );
}
