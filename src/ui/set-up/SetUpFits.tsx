import type { CaseFile } from '../../protocol/case-types.ts';
import type { Finding } from '../../protocol/finding.ts';
import { fitLines, setUpWords } from '../../words/set-up-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';

/** What of a case is not what its protocol is written for, and the way to save it anyway. */
export function SetUpFits(props: {
  readonly spec: CaseFile;
  readonly findings: readonly Finding[];
  readonly onInsist: () => void;
}) {
  const { spec, findings, onInsist } = props;
  return (
    <div className="set-up-fits">
      <Banner
        tone="attention"
        words={setUpWords.unfit}
        advice={setUpWords.unfitTodo}
        action={<Button onPress={onInsist}>{setUpWords.saveAnyway}</Button>}
      />
      <ul>
        {fitLines(findings, spec).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}
