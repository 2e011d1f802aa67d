import { drillsSigned } from '../../runtime/lead/drill-desk.ts';
import { drillWords } from '../../words/drill-words.ts';
import { Button } from '../parts/Button.tsx';
import { useTimes } from '../shared/session-context.ts';
import { useDeed } from './use-deed.ts';
import { useLead, useLeadDesk } from './use-lead.ts';

/** What the lead signs of drills, and who signed it when. */
export function DrillsSign() {
  const desk = useLeadDesk();
  const times = useTimes();
  const signed = drillsSigned(useLead((s) => s.log));
  const { act, words } = useDeed();
  const { desk: own, readiness } = drillWords;
  return (
    <section className="desk-row" aria-labelledby="drills-sign">
      <div>
        <h3 id="drills-sign">{own.title}</h3>
        <p>{readiness.sentence}</p>
        <p className="lw-aside">
          {signed === null
            ? readiness.notSigned
            : readiness.signed({ by: signed.by, on: times.date(signed.onWallMs) })}{' '}
          {signed !== null && signed.words !== readiness.sentence && own.was(signed.words)}
        </p>
        <p className="lw-aside">{own.lede}</p>
        {words !== null && <p className="lw-field-problem">{words}</p>}
      </div>
      <Button onPress={() => void act(desk.drills.sign(readiness.sentence))}>
        {signed === null ? own.sign : own.again}
      </Button>
    </section>
  );
}
