import { type ReactNode, useEffect, useRef } from 'react';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import type { FormProblems } from './editor-form-problems.ts';

/**
 * A sheet with a form. What is wrong stands beside its field; applying it all the same leads to the
 * first such field and closes nothing.
 */
export function EditorFormSheet(props: {
  readonly title: string;
  readonly problems: FormProblems;
  /** Counts the attempts to apply what cannot be applied. */
  readonly tries: number;
  readonly onApply: () => void;
  readonly onClose: () => void;
  readonly children: ReactNode;
}) {
  const { problems, tries } = props;
  const body = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (tries === 0) return;
    body.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [tries]);
  return (
    <Sheet
      open
      width="wide"
      title={props.title}
      onClose={props.onClose}
      foot={
        <Button rank="main" onPress={props.onApply}>
          {editorWords.apply}
        </Button>
      }
    >
      <div className="editor-form" ref={body}>
        {props.children}
        {problems.other !== undefined && (
          <p className="lw-field-problem" role="status">
            {problems.other}
          </p>
        )}
      </div>
    </Sheet>
  );
}
