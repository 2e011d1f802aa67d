import { besideWords } from '../../../words/beside-words.ts';
import { emergencyWords } from '../../../words/emergency-words.ts';
import { recordWords } from '../../../words/record-words.ts';
import { Section } from '../../parts/Page.tsx';
import type { RecordNote } from './record-changes-model.ts';
import type { RecordModel } from './record-model.ts';

function NoteList({ notes }: { readonly notes: readonly RecordNote[] }) {
  return (
    <ul className="record-notes">
      {notes.map((note) => (
        <li key={note.id}>
          <span className="record-moment">{note.moment}</span>
          <span>
            {note.words}
            {note.said !== undefined && <span className="record-note">{note.said}</span>}
            {note.detail !== undefined && <span className="record-note">{note.detail}</span>}
          </span>
          <span className="record-who">{note.who}</span>
        </li>
      ))}
    </ul>
  );
}

function Part(props: {
  readonly title: string;
  readonly lede?: string;
  readonly notes: readonly RecordNote[];
  readonly none: string;
}) {
  return (
    <Section title={props.title} lede={props.notes.length > 0 ? props.lede : undefined}>
      {props.notes.length === 0 ? <p>{props.none}</p> : <NoteList notes={props.notes} />}
    </Section>
  );
}

const ASIDE = ['emergencies', 'anaesthesia', 'counts'] as const;

function asideTitle(part: (typeof ASIDE)[number]): string {
  if (part === 'emergencies') return emergencyWords.setting.title;
  return part === 'counts' ? besideWords.counts : besideWords.title;
}

/** What people changed or wrote, and the times nobody watched. */
export function RecordNotes({ model }: { readonly model: RecordModel }) {
  return (
    <>
      {ASIDE.map((part) =>
        model[part].length === 0 ? null : (
          <Section key={part} title={asideTitle(part)}>
            <NoteList notes={model[part]} />
          </Section>
        ),
      )}
      {model.passes.length > 0 && (
        <Section title={recordWords.ledByTones}>
          <NoteList notes={model.passes} />
        </Section>
      )}
      {model.shades.length > 0 && (
        <Section title={recordWords.shades}>
          <NoteList notes={model.shades} />
        </Section>
      )}
      {model.waysBack.length > 0 && (
        <Section title={recordWords.waysBack}>
          <NoteList notes={model.waysBack} />
        </Section>
      )}
      <Part
        title={recordWords.corrections}
        lede={recordWords.correctionsLede}
        notes={model.corrections}
        none={recordWords.noCorrections}
      />
      <Part title={recordWords.gaps} notes={model.gaps} none={recordWords.noGaps} />
      <Part title={recordWords.remarks} notes={model.remarks} none={recordWords.noRemarks} />
    </>
  );
}
