import { formatQuantity } from '../../words/number.ts';
import { settingWords } from '../../words/setting-words.ts';
import { Button } from '../parts/Button.tsx';
import { Facts } from '../parts/Facts.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { isDamaged } from './damage-model.ts';
import { useApp, useTablet } from './session-context.ts';

const BYTES_PER_MB = 1_000_000;

const usedWords = (bytes: number): string =>
  settingWords.used(formatQuantity({ value: bytes / BYTES_PER_MB, unit: 'MB', digits: 1 }));

/** What the browser promises about keeping the records, how often they are kept and how much it is. */
export function StorageKept(props: {
  readonly markClass: string;
  /** Says as well whether the app was opened as one or in a page of the browser. */
  readonly tellsOpening?: boolean;
}) {
  const tablet = useTablet();
  const { protection, isInstalled, usedBytes } = useApp((s) => s.tablet.storage);
  const copies = useApp((s) => s.journal.copies);
  const hasLost = useApp((s) => isDamaged(s.damage));
  const isProtected = protection === 'protected';
  const opened = isInstalled ? settingWords.installed : settingWords.inTab;
  return (
    <>
      <p className={props.markClass}>
        <StateMark shape={isProtected ? 'full' : 'part'} />
        {settingWords.protection[protection]}
      </p>
      {!isProtected && (
        <div>
          <Button onPress={() => void tablet.protectStorage()}>{settingWords.protect}</Button>
        </div>
      )}
      <Facts
        facts={[
          {
            id: 'copies',
            label: settingWords.factCopies,
            value: hasLost ? settingWords.copiesDamaged : settingWords.copies(copies),
          },
          ...(props.tellsOpening === true
            ? [{ id: 'opened', label: settingWords.factOpened, value: opened }]
            : []),
          ...(usedBytes === null
            ? []
            : [{ id: 'used', label: settingWords.factUsed, value: usedWords(usedBytes) }]),
        ]}
      />
    </>
  );
}
