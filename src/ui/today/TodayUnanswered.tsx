import { Link } from 'wouter';
import type { OpenCorrections } from '../../runtime/app-state.ts';
import { correctionWords, namedWords } from '../../words/correction-words.ts';
import { Banner } from '../parts/Banner.tsx';

/** Said before anybody presses Begin: a template corrects what is in force here. */
export function UnansweredNotice({ protocol, title, unanswered }: OpenCorrections) {
  const { corrections } = unanswered;
  return (
    <Banner
      tone="attention"
      words={correctionWords.notice({ count: corrections.length, protocol: title })}
      advice={correctionWords.noticeTodo(namedWords(corrections))}
      action={<Link href={`/lead/corrections/${protocol}`}>{correctionWords.toDesk}</Link>}
    />
  );
}
