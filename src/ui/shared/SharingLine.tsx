import { useEffect, useState } from 'react';
import { MS_PER_SECOND } from '../../base/units.ts';
import {
  type SharingMark,
  sharingLineWords,
  sharingWordsAt,
} from '../../words/sharing-line-words.ts';
import { type MarkShape, StateMark } from '../parts/StateMark.tsx';
import { useSession, useTablet, useTimes } from './session-context.ts';
import './sharing-line.css';

const SHAPE: Readonly<Record<SharingMark, MarkShape>> = {
  shared: 'full',
  behind: 'part',
  reading: 'target',
  'put-out': 'struck',
  elsewhere: 'empty',
};

interface Line {
  readonly mark: SharingMark;
  readonly words: string;
  readonly isDemo: boolean;
}

const isSame = (a: Line | null, b: Line | null): boolean =>
  a?.words === b?.words && a?.mark === b?.mark && a?.isDemo === b?.isDemo;

/** The state is looked at once a second and no oftener: a store in full flow draws nothing anew. */
function useLine(): Line | null {
  const session = useSession();
  const tablet = useTablet();
  const times = useTimes();
  const read = (): Line | null => {
    const { sharing, standing } = session.store.getState();
    const isReader = standing === 'reader';
    const told = sharingWordsAt(sharing, { nowMs: tablet.wallNowMs(), times, isReader });
    return told === null ? null : { ...told, isDemo: sharing.isDemo };
  };
  const [line, setLine] = useState(read);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is read comes from these.
  useEffect(() => {
    const look = (): void =>
      setLine((before) => {
        const now = read();
        return isSame(before, now) ? before : now;
      });
    const timer = setInterval(look, MS_PER_SECOND);
    return () => clearInterval(timer);
  }, [session, tablet, times]);
  return line;
}

/** Whether this tablet and the clinic’s store agree, in one line; and that the store is for trying. */
export function SharingLine(o: { readonly as?: 'demo' }) {
  const line = useLine();
  if (line === null) return null;
  const demo = line.isDemo ? <strong>{sharingLineWords.demo}</strong> : null;
  if (o.as === 'demo') return demo !== null && <p className="sharing-demo">{demo}</p>;
  return (
    <div className="sharing-line">
      {demo !== null && <p className="sharing-demo">{demo}</p>}
      <p className="sharing-item" data-mark={line.mark}>
        <StateMark shape={SHAPE[line.mark]} />
        <span>{line.words}</span>
      </p>
    </div>
  );
}
