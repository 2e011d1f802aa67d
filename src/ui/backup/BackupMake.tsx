import { useState } from 'react';
import { BACKUP_PASSPHRASE_LENGTH_MIN } from '../../runtime/backup/backup.ts';
import { canShare, type SharedFile, saveFile, shareFile } from '../../runtime/cases/share.ts';
import { backupProblemWords, backupWords } from '../../words/backup-words.ts';
import { formatQuantity } from '../../words/number.ts';
import { storeOnlyWords } from '../../words/store-only-words.ts';
import { Button } from '../parts/Button.tsx';
import { Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { useCasesList } from '../shared/materials-hooks.ts';
import { NewPassphraseFields, useNewPassphrase } from '../shared/NewPassphrase.tsx';
import { useApp, useSession, useTimes } from '../shared/session-context.ts';
import { BackupTold } from './BackupTold.tsx';

const BYTES_PER_KB = 1000;
const BYTES_PER_MB = 1_000_000;

function sizeWords(bytes: number): string {
  return bytes < BYTES_PER_MB
    ? formatQuantity({ value: Math.ceil(bytes / BYTES_PER_KB), unit: 'kB', digits: 0 })
    : formatQuantity({ value: bytes / BYTES_PER_MB, unit: 'MB', digits: 1 });
}

/** Asks for a passphrase twice and makes the file. */
export function BackupMake() {
  const { casesList } = useSession();
  const { lastBackup } = useCasesList();
  const atStore = useApp((s) => s.sharing.storeOnly.count);
  const times = useTimes();
  const chosen = useNewPassphrase();
  const { passphrase } = chosen;
  const [busy, setBusy] = useState<string | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const [file, setFile] = useState<SharedFile | null>(null);
  const isShort = passphrase.length < BACKUP_PASSPHRASE_LENGTH_MIN;
  const make = async (): Promise<void> => {
    setWrong(null);
    setBusy(backupWords.written(0));
    const made = await casesList
      .backUp(passphrase, (p) => setBusy(backupWords.written(p.cases)))
      .finally(() => setBusy(null));
    if (!made.ok) return setWrong(backupProblemWords(made.error));
    const name = `lutewatch-${times.fileStamp(Date.now())}.backup`;
    const ready = { name, type: made.value.type, content: made.value };
    setFile(ready);
    chosen.clear();
    saveFile(ready);
  };
  const last =
    lastBackup === null
      ? backupWords.lastNever
      : backupWords.lastMade({
          when: times.moment(lastBackup.onWallMs),
          cases: lastBackup.cases,
        });
  return (
    <Section title={backupWords.make}>
      <div className="backup-part">
        <Facts facts={[{ id: 'last', label: backupWords.last, value: last }]} />
        <NewPassphraseFields
          chosen={chosen}
          words={{
            passphrase: backupWords.passphrase,
            hint: backupWords.passphraseHint,
            again: backupWords.repeat,
            other: backupWords.repeatWrong,
          }}
        />
        <div>
          <Button
            rank="main"
            disabled={busy !== null || isShort || !chosen.isRepeated}
            onPress={() => void make()}
          >
            {backupWords.makeDo}
          </Button>
        </div>
        <BackupTold busy={busy} wrong={wrong} />
        {file !== null && <Ready file={file} />}
        <p className="lw-quiet">{backupWords.saveElsewhere}</p>
        {atStore > 0 && <p className="lw-quiet">{storeOnlyWords.inBackup(atStore)}</p>}
      </div>
    </Section>
  );
}

function Ready({ file }: { readonly file: SharedFile }) {
  const size = typeof file.content === 'string' ? file.content.length : file.content.size;
  return (
    <>
      <p role="status">
        <strong>{backupWords.ready(sizeWords(size))}</strong>
      </p>
      <div>
        <Button onPress={() => saveFile(file)}>{backupWords.save}</Button>
        {canShare(navigator, file) && (
          <Button onPress={() => void shareFile(navigator, file)}>{backupWords.share}</Button>
        )}
      </div>
    </>
  );
}
