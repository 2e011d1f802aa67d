import { Link } from 'wouter';
import { sharingNotices } from '../../runtime/sharing/sharing-notices.ts';
import { sharingLinkWords } from '../../words/sharing-link-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { useApp } from '../shared/session-context.ts';

/** One notice of all that waits at the tablets of the clinic. */
export function SharingNotice() {
  const sharing = useApp((s) => s.sharing);
  const waiting = sharingNotices(sharing);
  if (waiting.length === 0) return null;
  const { notices } = sharingLinkWords;
  const lines = waiting.map((each) => {
    const text = notices[each.what];
    return typeof text === 'string' ? text : text(each.count);
  });
  const isOnlyConflicts = waiting.every(({ what }) => what === 'conflicts');
  return (
    <Banner
      tone="attention"
      words={sharingLinkWords.notice}
      advice={lines.join(' ')}
      action={
        <Link
          className="lw-way"
          href={isOnlyConflicts ? '/clinic/tablets/conflicts' : '/clinic/tablets'}
        >
          {isOnlyConflicts ? sharingLinkWords.seeConflicts : sharingLinkWords.see}
        </Link>
      }
    />
  );
}
