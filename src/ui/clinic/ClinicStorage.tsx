import { Link } from 'wouter';
import { settingWords } from '../../words/setting-words.ts';
import { Button } from '../parts/Button.tsx';
import { Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { StorageKept } from '../shared/StorageKept.tsx';
import { useApp, useIsRunning, useTablet } from '../shared/session-context.ts';

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
  return (
    <Section title={settingWords.storage}>
      <StorageKept markClass="clinic-state" tellsOpening />
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
  const isWaiting = update === 'waiting' || update === 'held';
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
