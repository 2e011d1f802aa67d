import { partWords } from '../../words/part-words.ts';
import './status.css';
import { type MarkShape, StateMark } from './StateMark.tsx';

interface StatusRailProps {
  readonly saved: boolean;
  /** Entries that were saved before are missing. */
  readonly hasLost?: boolean | undefined;
  readonly screenHeld: boolean;
  readonly soundOn: boolean;
  /** Speed of a rehearsal; undefined for a real case. */
  readonly rehearsalSpeed?: number | undefined;
  /**
   * Further states of this tablet: "PEDAL ALIVE", "ONE COPY". What is neither good nor bad, such as
   * the numbering, carries no mark.
   */
  readonly others?:
    | readonly { readonly id: string; readonly words: string; readonly good: boolean | null }[]
    | undefined;
}

interface Item {
  readonly id: string;
  readonly words: string;
  readonly tone: 'good' | 'bad' | 'plain';
  readonly mark: MarkShape | null;
}

function items(props: StatusRailProps): readonly Item[] {
  const item = (id: string, good: boolean | null, words: string): Item => {
    if (good === null) return { id, words, tone: 'plain', mark: null };
    return { id, words, tone: good ? 'good' : 'bad', mark: good ? 'full' : 'broken' };
  };
  return [
    item('saved', props.saved && props.hasLost !== true, savedWords(props)),
    item(
      'screen',
      props.screenHeld,
      props.screenHeld ? partWords.screenHeld : partWords.screenMaySleep,
    ),
    item('sound', props.soundOn, props.soundOn ? partWords.soundOn : partWords.soundOff),
    ...(props.others ?? []).map((other) => item(other.id, other.good, other.words)),
  ];
}

function savedWords({ saved, hasLost }: StatusRailProps): string {
  if (!saved) return partWords.notSaved;
  return hasLost === true ? partWords.partSaved : partWords.saved;
}

/** Whether the tablet can be relied on. Quiet while all is well; loud where it is not. */
export function StatusRail(props: StatusRailProps) {
  return (
    <ul className="lw-status" aria-label={partWords.status}>
      {props.rehearsalSpeed !== undefined && (
        <li className="lw-status-item" data-tone="rehearsal">
          {partWords.rehearsal(props.rehearsalSpeed)}
        </li>
      )}
      {items(props).map((item) => (
        <li key={item.id} className="lw-status-item" data-tone={item.tone} data-item={item.id}>
          {item.mark !== null && <StateMark shape={item.mark} />}
          {item.words}
        </li>
      ))}
    </ul>
  );
}
