import { Link } from 'wouter';
import { escapeUnseen } from '../../base/unseen.ts';
import { backupWords } from '../../words/backup-words.ts';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { useCasesList } from '../shared/materials-hooks.ts';
import { useApp, useSession } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';

/** What fits nowhere and is kept all the same; left out while there is nothing. */
export function BackupApart() {
  const { casesList } = useSession();
  const cases = useApp((s) => s.cases);
  const { facts } = useCasesList();
  // A restore or a new start changes the cases.
  const { value: read } = useLoaded(() => casesList.readApart(), [casesList], [cases]);
  const things = read?.ok ? read.value : [];
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
