import { type ReactNode, useEffect, useRef } from 'react';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { showFirst } from '../../shared/use-first-fault.ts';

/**
 * A sheet whose Apply can always be pressed: what is wrong stands beside its field, and pressing it all
 * the same leads to the first such field and closes nothing.
 */
export function EditorApplySheet(props: {
  readonly title: string;
  /** Counts the attempts to apply what cannot be applied. */
  readonly tries: number;
  /** What no field can show. */
  readonly other?: string | null | undefined;
  readonly onApply: () => void;
  readonly onClose: () => void;
  /** Beside Apply. */
  readonly foot?: ReactNode;
  readonly children: ReactNode;
}) {
  const { tries, other } = props;
  const body = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (tries > 0 && body.current !== null) showFirst(body.current);
  }, [tries]);
  return (
    <Sheet
      open
      width="wide"
      title={props.title}
      onClose={props.onClose}
      foot={
        <>
          {props.foot}
          <Button rank="main" onPress={props.onApply}>
            {editorWords.apply}
          </Button>
        </>
      }
    >
      <div className="editor-form" ref={body}>
        {props.children}
        {other !== undefined && other !== null && (
          <p className="lw-field-problem" role="status">
            {other}
          </p>
        )}
      </div>
    </Sheet>
  );
}
