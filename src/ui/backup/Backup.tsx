import { useLocation } from 'wouter';
import { backupWords } from '../../words/backup-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { StorageKept } from '../shared/StorageKept.tsx';
import { BackupApart } from './BackupApart.tsx';
import { BackupMake } from './BackupMake.tsx';
import { BackupRestore } from './BackupRestore.tsx';
import './backup.css';

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
  return (
    <Section title={backupWords.keeping}>
      <div className="backup-part">
        <StorageKept markClass="lw-kept" />
      </div>
    </Section>
  );
}
