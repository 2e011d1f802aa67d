import { type ReactNode, useEffect, useRef } from 'react';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import type { Form } from './editor-form.ts';

/**
 * A sheet with a form. What is wrong stands beside its field; applying it all the same leads to the
 * first such field and closes nothing.
 */
export function EditorFormSheet(props: {
  readonly title: string;
  readonly form: Omit<Form<unknown>, 'value' | 'set'>;
  readonly children: ReactNode;
}) {
  const { problems, tries, apply, close } = props.form;
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
      onClose={close}
      foot={
        <Button rank="main" onPress={apply}>
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
