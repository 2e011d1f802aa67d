import { penWords } from '../../words/pen-words.ts';
import { tabletName } from '../shared/pen-model.ts';
import { useApp } from '../shared/session-context.ts';
import { isElsewhere } from '../shared/today-model.ts';

/** On which other tablet an open case is; nothing for one of this tablet. */
export function CasesElsewhere({ caseId }: { readonly caseId: string }) {
  const summary = useApp((s) => s.cases.find((c) => c.caseId === caseId));
  const tablet = useApp((s) => s.settings.tablet);
  const sharing = useApp((s) => s.sharing);
  const isShared = sharing.standing !== 'alone';
  if (summary === undefined || !isElsewhere(summary, { tablet, isShared })) return null;
  const { pen } = summary;
  const name = tabletName(sharing, pen?.tablet ?? null, pen?.name);
  return <span className="lw-quiet"> {penWords.openOn(name)}</span>;
}
