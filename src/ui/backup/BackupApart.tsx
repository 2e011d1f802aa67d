import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { escapeUnseen } from '../../base/unseen.ts';
import type { ApartThing } from '../../runtime/backup/set-apart.ts';
import { backupWords } from '../../words/backup-words.ts';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { useCasesList } from '../shared/materials-hooks.ts';
import { useApp, useSession } from '../shared/session-context.ts';

/** What fits nowhere and is kept all the same; left out while there is nothing. */
export function BackupApart() {
  const { casesList } = useSession();
  const cases = useApp((s) => s.cases);
  const { facts } = useCasesList();
  const [things, setThings] = useState<readonly ApartThing[]>([]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a restore or a new start changes the cases.
  useEffect(() => {
    let isCurrent = true;
    void casesList.readApart().then((read) => {
      if (isCurrent && read.ok) setThings(read.value);
    });
    return () => {
      isCurrent = false;
    };
  }, [casesList, cases]);
  if (things.length === 0) return null;
  return (
    <Section title={backupWords.apart(things.length)} lede={backupWords.apartLede}>
      <ul className="backup-apart">
        {things.map(({ id, caseId, why, content }) => (
          <li key={id}>
            {backupWords.apartWhy[why]}
            {caseId !== null && (
              <>
                {' '}
                <Link href={`/record/${caseId}`}>
                  {facts.find((f) => f.caseId === caseId)?.title ?? caseId}
                </Link>
              </>
            )}
            <Disclosure summary={backupWords.apartShow}>
              <pre>{escapeUnseen(JSON.stringify(content, null, 1))}</pre>
            </Disclosure>
          </li>
        ))}
      </ul>
    </Section>
  );
}
