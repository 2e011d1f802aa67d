import type { DeviceLabel } from '../../../calc/udi/label.ts';
import { isMissing } from '../../../calc/udi/label-fault.ts';
import type { ScannedLabel } from '../../../runtime/scanner/scanner-label.ts';
import type { Times } from '../../../words/date-words.ts';
import { labelFaultWords, scanWords } from '../../../words/scan-words.ts';
import { Button } from '../../parts/Button.tsx';
import { type Fact, Facts } from '../../parts/Facts.tsx';
import { useTimes } from '../../shared/session-context.ts';

function factsOf(label: DeviceLabel, times: Times): readonly Fact[] {
  const words = scanWords.facts;
  const always = (id: keyof typeof words, value: string | null, note?: string): Fact => ({
    id,
    label: words[id],
    value: value ?? scanWords.none,
    note,
  });
  const ifGiven = (id: keyof typeof words, value: string | null): Fact[] =>
    value === null ? [] : [always(id, value)];
  const expiry = label.expiry === null ? null : times.dateOf(label.expiry);
  return [
    always('issuer', label.issuer),
    always('device', label.deviceIdentifier),
    always('lot', label.lot),
    always('expiry', expiry, label.expiryStatedTo === 'month' ? scanWords.month : undefined),
    ...ifGiven('serial', label.serial),
    ...ifGiven('produced', label.produced === null ? null : times.dateOf(label.produced)),
    ...ifGiven('additional', label.additionalIdentifier),
  ];
}

/** What a code says, in words. With anything wrong it cannot be taken over, only typed by hand. */
export function ScanReadBack(o: {
  readonly scan: ScannedLabel;
  readonly onTake: () => void;
  readonly onAgain: () => void;
  readonly onByHand: () => void;
}) {
  const { label, isWhole } = o.scan;
  const times = useTimes();
  const wrong = label.faults.filter((fault) => !isMissing(fault)).map(labelFaultWords);
  const isSound = label.faults.length === 0;
  return (
    <div className="scan-read" role="status">
      <h3>{scanWords.readBack}</h3>
      {wrong.length > 0 && (
        <div className="scan-problems" role="alert">
          <p>{scanWords.problems}</p>
          <ul>
            {wrong.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
          <p>{scanWords.problemsTodo}</p>
        </div>
      )}
      {label.issuer !== null && <Facts size="large" facts={factsOf(label, times)} />}
      {wrong.length === 0 && !isWhole && <p className="scan-more">{scanWords.more}</p>}
      <div className="scan-buttons">
        {isSound && (
          <Button rank="main" onPress={o.onTake}>
            {scanWords.take}
          </Button>
        )}
        <Button onPress={o.onAgain}>{scanWords.again}</Button>
        <Button rank="quiet" onPress={o.onByHand}>
          {scanWords.byHand}
        </Button>
      </div>
    </div>
  );
}
