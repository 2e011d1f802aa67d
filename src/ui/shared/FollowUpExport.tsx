import { useState } from 'react';
import { clinicOf } from '../../export/export-clinic.ts';
import type { FollowUpExportFile } from '../../export/follow-up-forms.ts';
import { canShare, type SharedFile, saveFile, shareFile } from '../../runtime/cases/share.ts';
import type { Session } from '../../runtime/session.ts';
import { followUpExportWords } from '../../words/follow-up-export-words.ts';
import { shareWords } from '../../words/share-words.ts';
import { Button } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useApp, useSession } from './session-context.ts';
import './export-forms.css';

const FORMS = ['csv', 'fhir', 'json'] as const;
type Form = (typeof FORMS)[number];

const PROBE: SharedFile = { name: 'lives.txt', type: 'text/plain', content: 'lives' };

/** The record of one case names its own resources by the hash of its first entry. */
async function rootsOf(
  session: Session,
  caseId: string | undefined,
): Promise<ReadonlyMap<string, string>> {
  const read = caseId === undefined ? null : await session.readCase(caseId);
  const hash = read?.ok ? read.value.reading.entries[0]?.hash : undefined;
  return new Map(caseId === undefined || hash === undefined ? [] : [[caseId, hash]]);
}

/** The code of the files is loaded when one is asked for. Rejects where it cannot be, or the follow-up cannot be read. */
async function made(
  session: Session,
  { form, caseId }: { readonly form: Form; readonly caseId: string | undefined },
): Promise<FollowUpExportFile> {
  const { followUpEntriesFile, followUpFile } = await import('../../export/follow-up-forms.ts');
  const followUps = await session.followUps();
  const opened = await followUps.open();
  if (!opened.ok) throw new Error(opened.error.code);
  const { list, today } = followUps.state.getState();
  const source = {
    followUps: list.map(({ followUp }) => followUp),
    today,
    ...(caseId === undefined ? {} : { only: caseId }),
  };
  if (form === 'json') return followUpEntriesFile(source, followUps.entries(caseId));
  const clinic = clinicOf(session.store.getState().settings);
  const roots = form === 'fhir' ? await rootsOf(session, caseId) : new Map<string, string>();
  return followUpFile({ ...source, roots }, form, clinic);
}

/**
 * The forms in which a follow-up is handed on.
 * @param caseId the one case that is told; every case when left out.
 */
export function FollowUpExport({ caseId }: { readonly caseId?: string }) {
  const session = useSession();
  const hasNoSystem = useApp((s) => clinicOf(s.settings).chartSystem === null);
  const [words, setWords] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  const give = async (form: Form, hand: (file: SharedFile) => Promise<void>): Promise<void> => {
    setBusy(true);
    setWords(null);
    try {
      const { name, mediaType, text } = await made(session, { form, caseId });
      await hand({ name, type: mediaType, content: text });
    } catch {
      setWords(shareWords.failed);
    } finally {
      setBusy(false);
    }
  };
  const save = async (file: SharedFile): Promise<void> => {
    saveFile(file);
    setWords(followUpExportWords.done(file.name));
  };
  const share = async (file: SharedFile): Promise<void> => {
    await shareFile(navigator, file);
  };
  const lede = caseId === undefined ? followUpExportWords.lede : followUpExportWords.ledeCase;
  return (
    <div className="lw-screen-only">
      <Section title={followUpExportWords.title} lede={lede}>
        {words !== null && <p role="status">{words}</p>}
        <ul className="export-forms">
          {FORMS.map((form) => {
            const { title, about } = followUpExportWords.forms[form];
            return (
              <li key={form}>
                <p>
                  <strong>{title}</strong> <span>{about}</span>{' '}
                  {form === 'fhir' && hasNoSystem && (
                    <span className="export-forms-note">{shareWords.noChartSystem}</span>
                  )}
                </p>
                <Button
                  name={shareWords.saveName(title)}
                  disabled={isBusy}
                  onPress={() => void give(form, save)}
                >
                  {shareWords.save}
                </Button>
                {canShare(navigator, PROBE) && (
                  <Button
                    name={shareWords.shareName(title)}
                    disabled={isBusy}
                    onPress={() => void give(form, share)}
                  >
                    {shareWords.share}
                  </Button>
                )}
              </li>
            );
          })}
        </ul>
      </Section>
    </div>
  );
}
