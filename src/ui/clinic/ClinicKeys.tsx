import { useEffect, useState } from 'react';
import type { KeyVerb } from '../../words/codes.ts';
import { keyWords, seenKeyWords } from '../../words/key-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { useTablet } from '../shared/session-context.ts';
import type { SettingsPartProps } from './settings-part.ts';

interface Seen {
  readonly key: string;
  readonly verb: KeyVerb | null;
}

/** Alive test of a pedal, and teaching a key that is not known yet. Taught keys only press. */
export function ClinicKeys({ settings, onChange }: SettingsPartProps) {
  const tablet = useTablet();
  const [isTesting, setTesting] = useState(false);
  const [seen, setSeen] = useState<Seen | null>(null);
  useEffect(() => {
    if (!isTesting) return undefined;
    return tablet.testKeys(({ key, verb }) => setSeen({ key, verb }));
  }, [tablet, isTesting]);
  const teach = (key: string) => {
    const problem = tablet.mayTeach(key);
    if (problem === null) onChange({ extraKeys: [...settings.extraKeys, key] });
  };
  const problem = seen && seen.verb === null ? tablet.mayTeach(seen.key) : null;
  return (
    <div className="clinic-keys">
      {!isTesting && <Button onPress={() => setTesting(true)}>{keyWords.test}</Button>}
      {isTesting && (
        <>
          <Banner
            tone="plain"
            words={seen === null ? keyWords.waiting : seenKeyWords(seen)}
            {...(problem === null ? {} : { advice: keyWords.notTeachable })}
          />
          <ButtonRow>
            {seen !== null && seen.verb === null && problem === null && (
              <Button onPress={() => teach(seen.key)}>{keyWords.teach(seen.key)}</Button>
            )}
            <Button
              onPress={() => {
                setTesting(false);
                setSeen(null);
              }}
            >
              {keyWords.done}
            </Button>
          </ButtonRow>
        </>
      )}
      {settings.extraKeys.length > 0 && (
        <ul className="clinic-taught">
          {settings.extraKeys.map((key) => (
            <li key={key}>
              <span>{key}</span>
              <Button
                rank="quiet"
                name={keyWords.forget(key)}
                onPress={() => onChange({ extraKeys: settings.extraKeys.filter((k) => k !== key) })}
              >
                {keyWords.forgetShort}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
