import { isSameJson } from '../../../base/json.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import { withField } from '../../../protocol/schema-fields.ts';
import type { WayBack } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { familyWords } from '../../../words/family-words.ts';
import { useTimes } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { BasisFields } from './EditorBasisFields.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { EntryCautions } from './EditorStepExtras.tsx';
import { EditorVoids } from './EditorVoids.tsx';
import { EntryFields, FieldProblem } from './EntryFields.tsx';
import { wayBackEdits } from './editor-around-model.ts';
import { type BasisEntry, basisEntry, basisOf, basisProblems } from './editor-basis.ts';
import { useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import type { OpenEntry } from './editor-new.ts';
import { stepChoices } from './editor-step-names.ts';
import type { OpenDraft } from './open-draft.ts';
import { WhereFields } from './WhereFields.tsx';

interface WayBackForm {
  readonly way: WayBack;
  readonly basis: BasisEntry;
}

const FIELDS = ['title', 'mishap', 'per', 'proposal', 'from', 'until'] as const;
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
export function EditorWayBackSheet(props: SheetProps<WayBack>) {
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
    fields: [...FIELDS, 'where', 'voids', 'cautions', 'basis'],
    first: () => ({ way: item, basis: firstBasis }),
    editsOf: (now) => editsOfForm(draft, open, { now, firstBasis }),
    onClose,
  });
  const { way } = form.value;
  const setWay = (next: WayBack): void => form.set({ ...form.value, way: next });
  const moments = stepChoices(draft.protocol.steps);
  return (
    <EditorFormSheet
      title={isNew ? aroundWords.newWayBack : aroundWords.wayBackSheet(item.title)}
      form={form}
    >
      <EntryFields
        part="waysBack"
        keys={FIELDS}
        entry={way}
        set={(key, value) => setWay(withField(way, key, value))}
        problemAt={form.problems.at}
        choices={{ from: moments, until: moments }}
      />
      <WhereFields
        legend={familyWords.condition.fitsOnly}
        protocol={draft.protocol}
        where={way.where}
        problems={form.problems}
        place="where"
        onChange={(where) => setWay(withField(way, 'where', where))}
      />
      <EditorVoids
        draft={draft}
        way={way}
        problems={form.problems}
        onChange={(voids) => setWay({ ...way, voids })}
      />
      <EntryCautions
        draft={draft}
        said={way.cautions ?? []}
        problems={form.problems}
        onChange={(said) =>
          setWay(withField(way, 'cautions', said.length === 0 ? undefined : said))
        }
      />
      <BasisFields
        entry={form.value.basis}
        onChange={(basis) => form.set({ ...form.value, basis })}
        sources={sources}
        problems={form.tries > 0 ? basisProblems(form.value.basis) : undefined}
      />
      <FieldProblem words={form.problems.at('basis')} />
    </EditorFormSheet>
  );
}
