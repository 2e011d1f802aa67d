import { useState } from 'react';
import { Link } from 'wouter';
import type { BackupProgress } from '../../runtime/backup/backup.ts';
import type { RestoreReport } from '../../runtime/backup/backup-merge.ts';
import {
  backupProblemWords,
  backupWords,
  restoredGroups,
  restoreFacts,
  sealWords,
} from '../../words/backup-words.ts';
import { Button } from '../parts/Button.tsx';
import { Facts } from '../parts/Facts.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { useIsRunning, useSession } from '../shared/session-context.ts';
import { BackupTold } from './BackupTold.tsx';

function progressWords(progress: BackupProgress): string {
  const { part, cases, of } = progress;
  return part === 'merging' && of !== null
    ? backupWords.merging({ done: cases, of })
    : backupWords.checking(cases);
}

/** Brings a file back; it is read to its end before anything changes. */
export function BackupRestore() {
  const session = useSession();
  const isRunning = useIsRunning();
  const [file, setFile] = useState<File | null>(null);
  const [passphrase, setPassphrase] = useState('');
  const [busy, setBusy] = useState<string | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const [report, setReport] = useState<RestoreReport | null>(null);
  const restore = async (): Promise<void> => {
    if (file === null) return;
    // A closed case that still stands in the chair would not see what is merged behind its back.
    session.leaveCase();
    setWrong(null);
    setReport(null);
    setBusy(backupWords.checking(0));
    let isMerging = false;
    const done = await session.casesList
      .restore({ file, passphrase }, (p) => {
        isMerging = p.part === 'merging';
        setBusy(progressWords(p));
      })
      .finally(() => setBusy(null));
    if (done.ok) {
      setReport(done.value);
      setPassphrase('');
      return;
    }
    const problem = backupProblemWords(done.error);
    setWrong(isMerging ? backupWords.failedPart(problem) : backupWords.failed(problem));
  };
  return (
    <Section title={backupWords.restore} lede={backupWords.restoreLede}>
      <div className="backup-part">
        <label className="lw-button lw-file backup-file">
          {file?.name ?? backupWords.fileNone}
          <input
            type="file"
            aria-label={backupWords.file}
            onChange={(event) => setFile(event.target.files?.[0] ?? null)}
          />
        </label>
        <TextField
          label={backupWords.passphrase}
          type="password"
          autoComplete="current-password"
          value={passphrase}
          onChange={setPassphrase}
        />
        <div>
          <Button
            disabled={isRunning || busy !== null || file === null || passphrase === ''}
            onPress={() => void restore()}
          >
            {backupWords.restoreDo}
          </Button>
        </div>
        {isRunning && <p>{backupWords.running}</p>}
        <BackupTold busy={busy} wrong={wrong} />
        {report !== null && (
          <>
            <p role="status">
              <strong>{backupWords.done}</strong>
            </p>
            <Facts facts={restoreFacts(report)} />
            {report.seal !== undefined && <p className="lw-quiet">{sealWords(report.seal)}</p>}
            <RestoredNames report={report} />
          </>
        )}
      </div>
    </Section>
  );
}

/** Everything that changed, by name: a lead must be able to look each of it up. */
function RestoredNames({ report }: { readonly report: RestoreReport }) {
  return restoredGroups(report.things).map((group) => (
    <div key={group.id} className="backup-things">
      <h3>{group.title}</h3>
      <ul>
        {group.lines.map(({ id, name, did }) => (
          <li key={id}>
            {group.id === 'case' ? <Link href={`/record/${id}`}>{name}</Link> : name}{' '}
            <span className="lw-quiet">{did}</span>
          </li>
        ))}
        {group.more !== null && <li>{group.more}</li>}
      </ul>
    </div>
  ));
}
