import { Link } from 'wouter';
import { sharingWords } from '../../../words/sharing-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Section } from '../../parts/Page.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { useTablet, useTimes } from '../../shared/session-context.ts';
import { BOX_PAPER } from './places.ts';
import { useIsReader, useShared } from './use-sharing.ts';

/** The sealed keys of the clinic: whether they lie anywhere but in tablets, and their way to paper. */
export function TabletsBox() {
  const box = useShared((s) => s.box);
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const isReader = useIsReader();
  // A window that does not write does not know of it.
  if (box === null && isReader) return null;
  if (box === null) {
    return (
      <Section title={sharingWords.box} lede={sharingWords.boxLede}>
        <p>{sharingWords.boxNone}</p>
      </Section>
    );
  }
  const sealed = times.whenInLine(box.sealedAtWallMs, { nowMs: wallNowMs() });
  return (
    <Section title={sharingWords.box} lede={sharingWords.boxLede}>
      {box.isKept ? (
        <p className="tablets-state">
          <StateMark shape="full" />
          {sharingWords.boxKept}
        </p>
      ) : (
        <Banner
          tone="attention"
          words={sharingWords.boxUnsafe}
          advice={sharingWords.boxUnsafeTodo}
        />
      )}
      <p>{sharingWords.boxSealed(sealed)}</p>
      <p className="tablets-ways">
        <Link className="lw-way" href={BOX_PAPER}>
          {sharingWords.boxPrint}
        </Link>
        <Link className="lw-way" href="/backup">
          {sharingWords.makeBackup}
        </Link>
      </p>
    </Section>
  );
}
