import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords } from '../../words/follow-up-words.ts';
import { Banner, EmptyState } from '../parts/Banner.tsx';
import { Frame } from '../shared/Frame.tsx';
import { type ReadFollowUps, useFollowUps } from '../shared/use-follow-ups.ts';

/** What a page says of the follow-up as a whole before it can show any of it. */
export function NotRead({ phase }: Pick<ReadFollowUps, 'phase'>) {
  if (phase !== 'failed') return <p role="status">{followUpWords.reading}</p>;
  return <Banner tone="broken" words={followUpWords.notRead} advice={followUpWords.notReadTodo} />;
}

/** A page about one case that is followed; says so where none is. */
export function OfCase(o: {
  readonly caseId: string;
  readonly title: string;
  readonly children: (
    row: FollowUpRow,
    read: ReadFollowUps & { readonly followUps: NonNullable<ReadFollowUps['followUps']> },
  ) => ReactNode;
}) {
  const read = useFollowUps();
  const { phase, followUps, state } = read;
  const row = state.list.find(({ caseId }) => caseId === o.caseId);
  if (followUps === null) {
    return (
      <Frame place="record" title={o.title}>
        <NotRead phase={phase} />
      </Frame>
    );
  }
  if (row === undefined) {
    return (
      <Frame place="record" title={o.title}>
        <EmptyState
          words={followUpWords.noCase}
          advice={followUpWords.noCaseTodo}
          action={
            <Link className="lw-way" href="/follow-up">
              {followUpWords.toList}
            </Link>
          }
        />
      </Frame>
    );
  }
  return o.children(row, { ...read, followUps });
}
