import { CaseDamaged } from '../../shared/CaseDamaged.tsx';
import { useSession } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { RecordApart } from './RecordApart.tsx';

/** What a case has lost, and what is kept of it beside what its record tells, as it was found. */
export function RecordDamaged({ caseId }: { readonly caseId: string }) {
  const { casesList } = useSession();
  const { value: read } = useLoaded(() => casesList.readApart(), [casesList, caseId]);
  const things = read?.ok ? read.value.filter((thing) => thing.caseId === caseId) : [];
  return (
    <>
      <CaseDamaged caseId={caseId} />
      <RecordApart contents={things.map(({ content }) => content)} />
    </>
  );
}
