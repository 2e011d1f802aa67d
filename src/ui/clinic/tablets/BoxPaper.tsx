import { useState } from 'react';
import { sharingLineWords } from '../../../words/sharing-line-words.ts';
import { sharingProblemWords, sharingWords } from '../../../words/sharing-words.ts';
import { Button } from '../../parts/Button.tsx';
import { PaperSheet } from '../../shared/PaperSheet.tsx';
import { useApp, useTablet, useTimes } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { boxLines } from './box-lines.ts';
import { TABLETS } from './places.ts';
import '../../shared/sharing-line.css';
import './box-paper.css';
import { useIsReader, useShared, useSharing } from './use-sharing.ts';

/** The box on one sheet of paper, with what it is for, when it was printed and by whom. */
export function BoxPaper() {
  const sharing = useSharing();
  const box = useShared((s) => s.box);
  const sealedAtWallMs = box?.sealedAtWallMs ?? null;
  const loaded = useLoaded(() => sharing.boxText(), [sharing, sealedAtWallMs]);
  if (loaded.state === 'loading') return <p className="lw-starting">{sharingWords.opening}</p>;
  const text = loaded.value ?? null;
  return (
    <PaperSheet
      look="box"
      title={sharingWords.boxTitle}
      back={{ href: TABLETS, words: sharingWords.boxBack }}
      print={sharingWords.boxPrintDo}
    >
      {text === null ? <p>{sharingWords.boxNone}</p> : <Box text={text} />}
    </PaperSheet>
  );
}

function Box({ text }: { readonly text: string }) {
  const box = useShared((s) => s.box);
  const name = useShared((s) => s.name);
  const isDemo = useShared((s) => s.isDemo);
  const clinic = useApp((s) => s.settings.clinic);
  const times = useTimes();
  const [printedAtMs] = useState(useTablet().wallNowMs());
  return (
    <>
      <header>
        <h1>{sharingWords.boxTitle}</h1>
        <p>{clinic}</p>
      </header>
      {isDemo && (
        <p>
          <strong className="sharing-demo">{sharingLineWords.demo}</strong>
        </p>
      )}
      <section className="paper-part" data-framed="true">
        <h2>{sharingWords.boxFor}</h2>
        <ul>
          {sharingWords.boxForLines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </section>
      <section className="paper-part">
        <p>
          {sharingWords.boxPrintedBy({
            tablet: name,
            when: times.momentAndZone(printedAtMs),
          })}
        </p>
        {box !== null && <p>{sharingWords.boxSealedOn(times.moment(box.sealedAtWallMs))}</p>}
        <dl className="box-blanks">
          <dt>{sharingWords.boxWho}</dt>
          <dd />
          <dt>{sharingWords.boxWhere}</dt>
          <dd />
        </dl>
      </section>
      <ol className="box-groups" aria-label={sharingWords.boxGroups}>
        {boxLines(text).map(({ at, line }) => (
          <li key={at}>{line}</li>
        ))}
      </ol>
      <Printed />
    </>
  );
}

/** The browser does not tell whether anything came out of the printer: a person does. */
function Printed() {
  const sharing = useSharing();
  const isReader = useIsReader();
  const [told, setTold] = useState<string | null>(null);
  const note = async (): Promise<void> => {
    const noted = await sharing.boxPrinted();
    setTold(noted.ok ? sharingWords.boxPrintedTold : sharingProblemWords(noted.error));
  };
  return (
    <div className="lw-screen-only tablets-send">
      <Button disabled={isReader} onPress={() => void note()}>
        {sharingWords.boxPrinted}
      </Button>
      <span role="status">{told ?? ''}</span>
    </div>
  );
}
