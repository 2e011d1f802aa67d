import { useState } from 'react';
import { clinicOf } from '../../../export/export-clinic.ts';
import { EXPORT_FORMS, exportFile } from '../../../export/export-forms.ts';
import type { RecordSource } from '../../../export/export-source.ts';
import { canShare, type SharedFile, saveFile, shareFile } from '../../../runtime/cases/share.ts';
import type { FormId } from '../../../words/codes.ts';
import type { Times } from '../../../words/date-words.ts';
import { shareWords } from '../../../words/share-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { useCasesList } from '../../shared/materials-hooks.ts';
import { useApp, useSession, useTablet, useTimes } from '../../shared/session-context.ts';
import '../../shared/export-forms.css';
import './record-share.css';

interface ShareProps {
  readonly caseId: string;
  readonly source: RecordSource;
}

const PROBE: SharedFile = { name: 'record.txt', type: 'text/plain', content: 'record' };

/** Every form in which this record can be handed on, and whether that was done. */
export function RecordShare({ caseId, source }: ShareProps) {
  const { casesList } = useSession();
  const list = useCasesList();
  const times = useTimes();
  const clinic = clinicOf(useApp((s) => s.settings));
  const tablet = useTablet();
  const [words, setWords] = useState<string | null>(null);
  const good = source.entries.at(-1)?.hash ?? '';
  // A damaged case stands where its summary says; only the journal holds what was set apart of it.
  const isDamaged = source.verification.firstBad !== null;
  const stored = list.facts.find((f) => f.caseId === caseId)?.head;
  const head = isDamaged ? (stored ?? good) : good;
  const mark = list.marks.get(caseId);
  const done = async (form: string): Promise<void> => {
    const at = form === 'json' ? head : good;
    const kept = await casesList.markExported({ caseId, head: at, form });
    setWords(kept.ok ? null : shareWords.notMarked);
  };
  const make = (form: FormId): SharedFile | null => {
    try {
      const { name, mediaType, text } = exportFile(source, form, {
        clinic,
        nowMs: tablet.wallNowMs(),
      });
      return { name, type: mediaType, content: text };
    } catch {
      setWords(shareWords.failed);
      return null;
    }
  };
  const save = async (form: FormId): Promise<void> => {
    const file = make(form);
    if (file === null) return;
    saveFile(file);
    await done(form);
  };
  const share = async (form: FormId): Promise<void> => {
    const file = make(form);
    if (file !== null && (await shareFile(navigator, file))) await done(form);
  };
  const noSystem = clinic.chartSystem === null ? shareWords.noChartSystem : null;
  const isRehearsal = source.log.state.opened.mode === 'rehearsal';
  const chartNote = isRehearsal ? shareWords.rehearsalChart : noSystem;
  return (
    <div className="record-share lw-screen-only">
      <Section title={shareWords.title} lede={shareWords.lede}>
        <p className="record-share-state">
          <StateMark shape={mark?.head === head ? 'full' : mark ? 'part' : 'empty'} />
          {stateWords(mark, { head, times })}
        </p>
        {words !== null && <p role="alert">{words}</p>}
        <ul className="export-forms record-share-forms">
          <li>
            <p>
              <strong>{shareWords.print}</strong>
            </p>
            <Button onPress={() => window.print()}>{shareWords.print}</Button>
            <Button rank="quiet" onPress={() => void done('paper')}>
              {shareWords.printDone}
            </Button>
          </li>
          {EXPORT_FORMS.map(({ id }) => (
            <Form
              key={id}
              id={id}
              note={id === 'fhir' ? chartNote : null}
              onSave={save}
              onShare={share}
            />
          ))}
        </ul>
      </Section>
    </div>
  );
}

function stateWords(
  mark: { readonly head: string; readonly onWallMs: number } | undefined,
  { head, times }: { readonly head: string; readonly times: Times },
): string {
  if (mark === undefined) return shareWords.notExported;
  const when = times.moment(mark.onWallMs);
  return mark.head === head ? shareWords.exported(when) : shareWords.exportedBefore(when);
}

function Form(o: {
  readonly id: FormId;
  /** What a receiver may miss in it. */
  readonly note: string | null;
  readonly onSave: (form: FormId) => Promise<void>;
  readonly onShare: (form: FormId) => Promise<void>;
}) {
  const { title, about } = shareWords.forms[o.id];
  return (
    <li>
      <p>
        <strong>{title}</strong>
        <span className="record-note">{about}</span>
        {o.note !== null && <span className="record-note">{o.note}</span>}
      </p>
      <Button name={shareWords.saveName(title)} onPress={() => void o.onSave(o.id)}>
        {shareWords.save}
      </Button>
      {canShare(navigator, PROBE) && (
        <Button name={shareWords.shareName(title)} onPress={() => void o.onShare(o.id)}>
          {shareWords.share}
        </Button>
      )}
    </li>
  );
}
