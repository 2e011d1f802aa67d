import { isSameJson } from '../../../base/json.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import type { WayBack } from '../../../protocol/types.ts';
import { MISHAPS, SCOPES } from '../../../protocol/vocabulary.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { BasisFields } from './EditorBasisFields.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { MaybeMomentFields } from './EditorMomentFields.tsx';
import { EditorVoids } from './EditorVoids.tsx';
import { type OpenEntry, wayBackEdits } from './editor-around-model.ts';
import { type BasisEntry, basisEntry, basisOf } from './editor-basis.ts';
import { choicesOf } from './editor-choices.ts';
import { type Form, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

interface WayBackForm {
  readonly way: WayBack;
  readonly basis: BasisEntry;
}

const WAY_BACK_FORMS = keptForms<WayBackForm>();

/** The edits of the form; null while its basis is not whole. A basis left alone stays as it was. */
function editsOfForm(
  { protocol }: OpenDraft,
  open: OpenEntry<WayBack>,
  o: { readonly now: WayBackForm; readonly firstBasis: BasisEntry },
): readonly Edit[] | null {
  const isSame = isSameJson(o.now.basis, o.firstBasis);
  const basis = isSame ? open.item.basis : basisOf(o.now.basis);
  return basis === null ? null : wayBackEdits(protocol, open, { ...o.now.way, basis });
}

/** What is proposed after one mishap, when it fits, and what no longer counts then. */
export function EditorWayBackSheet(props: {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<WayBack>;
  readonly onClose: () => void;
}) {
  const { draft, open, onClose } = props;
  const { item, isNew } = open;
  const desk = useLeadDesk();
  const person = useLead((s) => s.keeper) ?? '';
  const times = useTimes();
  const { sources } = draft.protocol;
  const firstBasis = basisEntry(item.basis, {
    person,
    today: times.isoDay(desk.nowWallMs()),
    sources,
  });
  const form = useForm(WAY_BACK_FORMS, {
    draft,
    part: 'waysBack',
    id: item.id,
    fields: ['title', 'proposal', 'from', 'until', 'voids', 'basis'],
    first: () => ({ way: item, basis: firstBasis }),
    editsOf: (now) => editsOfForm(draft, open, { now, firstBasis }),
    onClose,
  });
  return (
    <EditorFormSheet
      title={isNew ? aroundWords.newWayBack : aroundWords.wayBackSheet(item.title)}
      problems={form.problems}
      tries={form.tries}
      onApply={form.apply}
      onClose={form.close}
    >
      <Words form={form} />
      <Fits draft={draft} form={form} />
      <EditorVoids
        draft={draft}
        voids={form.value.way.voids}
        problems={form.problems}
        onChange={(voids) => form.set({ ...form.value, way: { ...form.value.way, voids } })}
      />
      <BasisFields
        entry={form.value.basis}
        onChange={(basis) => form.set({ ...form.value, basis })}
        sources={sources}
      />
      <BasisProblem form={form} />
    </EditorFormSheet>
  );
}

interface PartProps {
  readonly form: Form<WayBackForm>;
}

function BasisProblem({ form }: PartProps) {
  const words = form.problems.at('basis');
  if (words !== undefined) {
    return (
      <p className="lw-field-problem" role="status">
        {words}
      </p>
    );
  }
  return basisOf(form.value.basis) === null ? (
    <p className="desk-quiet">{editorWords.missing}</p>
  ) : null;
}

function Words({ form }: PartProps) {
  const { value, set, problems } = form;
  const change = (part: Partial<WayBack>): void =>
    set({ ...value, way: { ...value.way, ...part } });
  return (
    <>
      <TextField
        label={aroundWords.wayBackTitle}
        value={value.way.title}
        problem={problems.at('title')}
        onChange={(title) => change({ title })}
      />
      <SelectField
        label={aroundWords.mishap}
        value={value.way.mishap}
        options={choicesOf(MISHAPS, protocolWords.mishaps)}
        onChange={(text) => {
          const mishap = MISHAPS.find((name) => name === text);
          if (mishap !== undefined) change({ mishap });
        }}
      />
      <Segmented
        label={aroundWords.per}
        value={value.way.per}
        options={choicesOf(SCOPES, protocolWords.scopes)}
        onChange={(per) => change({ per })}
      />
      <TextField
        label={aroundWords.proposal}
        lines={3}
        value={value.way.proposal}
        problem={problems.at('proposal')}
        onChange={(proposal) => change({ proposal })}
      />
    </>
  );
}

function Fits({ draft, form }: PartProps & { readonly draft: OpenDraft }) {
  const { value, set, problems } = form;
  return (
    <>
      {(['from', 'until'] as const).map((key) => (
        <MaybeMomentFields
          key={key}
          draft={draft}
          label={key === 'from' ? aroundWords.fitsFrom : aroundWords.fitsUntil}
          none={aroundWords.anyTime}
          moment={value.way[key]}
          problem={problems.at(key)}
          onChange={(moment) => {
            const { [key]: _, ...rest } = value.way;
            set({ ...value, way: moment === undefined ? rest : { ...rest, [key]: moment } });
          }}
        />
      ))}
    </>
  );
}
