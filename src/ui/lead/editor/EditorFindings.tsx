import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import type { DraftFinding } from './editor-findings.ts';

/** The first fault, which stays in sight under the parts of the draft wherever the page is. */
export function FirstFault(props: {
  readonly findings: readonly DraftFinding[];
  readonly onGo: (finding: DraftFinding) => void;
}) {
  const faults = props.findings.filter(({ level }) => level === 'error');
  const [first] = faults;
  if (first === undefined) return null;
  return (
    <div className="editor-first-fault">
      <p>
        <strong>{editorWords.fault}</strong> {first.words}{' '}
        {faults.length > 1 && editorWords.moreFaults(faults.length - 1)}
      </p>
      <Button rank="quiet" name={editorWords.goToFirst} onPress={() => props.onGo(first)}>
        {editorWords.goTo}
      </Button>
    </div>
  );
}

/** What the checks say, faults first; each leads to its place. */
export function EditorFindings(props: {
  readonly findings: readonly DraftFinding[];
  readonly onGo: (finding: DraftFinding) => void;
}) {
  const { findings, onGo } = props;
  const faults = findings.filter((finding) => finding.level === 'error').length;
  const cautions = findings.length - faults;
  if (findings.length === 0) {
    return <p className="lw-aside">{editorWords.noFindings}</p>;
  }
  return (
    <details className="lw-disclosure editor-findings" open={faults > 0} data-faults={faults > 0}>
      <summary aria-live="polite">{editorWords.findings({ faults, cautions })}</summary>
      <ul className="lw-disclosure-body">
        {findings.map((finding) => (
          <li key={finding.id} data-level={finding.level}>
            <StateMark shape={finding.level === 'error' ? 'broken' : 'target'} />
            <p>
              <strong>{finding.level === 'error' ? editorWords.fault : editorWords.caution}</strong>{' '}
              {finding.words}
            </p>
            <Button
              rank="quiet"
              name={editorWords.goToName(finding.words)}
              onPress={() => onGo(finding)}
            >
              {editorWords.goTo}
            </Button>
          </li>
        ))}
      </ul>
    </details>
  );
}
