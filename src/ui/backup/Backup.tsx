import { useLocation } from 'wouter';
import { backupWords } from '../../words/backup-words.ts';
import { formatQuantity } from '../../words/number.ts';
import { settingWords } from '../../words/setting-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure, Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useTablet } from '../shared/session-context.ts';
import { BackupApart } from './BackupApart.tsx';
import { BackupMake } from './BackupMake.tsx';
import { BackupRestore } from './BackupRestore.tsx';
import './backup.css';

const BYTES_PER_MB = 1_000_000;

/** One file with everything, out and back in; and what the browser says about keeping. */
export function Backup() {
  const [, navigate] = useLocation();
  return (
    <Frame
      place="record"
      title={backupWords.title}
      lede={backupWords.lede}
      actions={<Button onPress={() => navigate('/record')}>{backupWords.toCases}</Button>}
    >
      <div className="backup">
        <BackupMake />
        <BackupRestore />
        <Keeping />
        <BackupApart />
      </div>
      <Disclosure summary={backupWords.format}>
        {backupWords.formatLines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </Disclosure>
    </Frame>
  );
}

function Keeping() {
  const tablet = useTablet();
  const storage = useApp((s) => s.tablet.storage);
  const copies = useApp((s) => s.journal.copies);
  const isProtected = storage.protection === 'protected';
  const { usedBytes } = storage;
  const used =
    usedBytes === null
      ? null
      : formatQuantity({ value: usedBytes / BYTES_PER_MB, unit: 'MB', digits: 1 });
  return (
    <Section title={backupWords.keeping}>
      <div className="backup-part">
        <p className="lw-kept">
          <StateMark shape={isProtected ? 'full' : 'part'} />
          {settingWords.protection[storage.protection]}
        </p>
        {!isProtected && (
          <div>
            <Button onPress={() => void tablet.protectStorage()}>{settingWords.protect}</Button>
          </div>
        )}
        <Facts
          facts={[
            { id: 'copies', label: settingWords.factCopies, value: settingWords.copies(copies) },
            ...(used === null
              ? []
              : [{ id: 'used', label: settingWords.factUsed, value: settingWords.used(used) }]),
          ]}
        />
      </div>
    </Section>
  );
}
