import { Link } from 'wouter';
import { formatQuantity } from '../../words/number.ts';
import { settingWords } from '../../words/setting-words.ts';
import { Button } from '../parts/Button.tsx';
import { Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { useApp, useIsRunning, useTablet } from '../shared/session-context.ts';

const BYTES_PER_MB = 1_000_000;

const usedWords = (bytes: number): string =>
  settingWords.used(formatQuantity({ value: bytes / BYTES_PER_MB, unit: 'MB', digits: 1 }));

/** What the browser says about keeping the records, and which version this is. */
export function ClinicStorage() {
  return (
    <>
      <Storage />
      <AppVersion />
    </>
  );
}

function Storage() {
  const tablet = useTablet();
  const storage = useApp((s) => s.tablet.storage);
  const copies = useApp((s) => s.journal.copies);
  const isProtected = storage.protection === 'protected';
  return (
    <Section title={settingWords.storage}>
      <p className="clinic-state">
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
          {
            id: 'opened',
            label: settingWords.factOpened,
            value: storage.isInstalled ? settingWords.installed : settingWords.inTab,
          },
          ...(storage.usedBytes === null
            ? []
            : [{ id: 'used', label: settingWords.factUsed, value: usedWords(storage.usedBytes) }]),
        ]}
      />
      <p>
        <Link href="/backup">{settingWords.backup}</Link>
      </p>
    </Section>
  );
}

function AppVersion() {
  const tablet = useTablet();
  const update = useApp((s) => s.tablet.update);
  const isRunning = useIsRunning();
  const isWaiting = update === 'waiting';
  return (
    <Section title={settingWords.app}>
      <Facts
        facts={[
          {
            id: 'version',
            label: settingWords.version,
            value: __APP_VERSION__,
            note: settingWords.update[update],
          },
        ]}
      />
      {isWaiting && isRunning && <p>{settingWords.updateRunning}</p>}
      {isWaiting && !isRunning && (
        <div>
          <Button onPress={tablet.applyUpdate}>{settingWords.updateDo}</Button>
        </div>
      )}
    </Section>
  );
}
