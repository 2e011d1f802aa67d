import { useLocation } from 'wouter';
import type { RunningCase } from '../../runtime/app-state.ts';
import { penWords } from '../../words/pen-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { tabletName } from '../shared/pen-model.ts';
import { useApp } from '../shared/session-context.ts';

/** Another tablet has pressed in the place of what was pressed here. */
export function PenEnds({ running }: { readonly running: RunningCase }) {
  const [, navigate] = useLocation();
  const sharing = useApp((s) => s.sharing);
  const all = useApp((s) => s.secondEnds);
  return all
    .filter((end) => end.caseId === running.caseId)
    .map((end) => {
      const name = tabletName(sharing, end.tablet, end.name);
      const { presses } = end;
      const here = end.withoutPen ? penWords.twoEndsWithoutPen : penWords.twoEndsHere;
      return (
        <Banner
          key={`${end.tablet} ${presses}`}
          tone={end.hasPen ? 'broken' : 'attention'}
          words={penWords.twoEnds}
          advice={end.hasPen ? penWords.twoEndsThere(name) : here({ name, presses })}
          action={
            <Button size="chair" onPress={() => navigate(`/record/${running.caseId}`)}>
              {penWords.toRecord}
            </Button>
          }
        />
      );
    });
}
