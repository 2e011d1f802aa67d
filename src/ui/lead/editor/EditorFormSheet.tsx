import type { ReactNode } from 'react';
import { EditorApplySheet } from './EditorApplySheet.tsx';
import type { Form } from './editor-form.ts';

/** A sheet with a form. */
export function EditorFormSheet(props: {
  readonly title: string;
  readonly form: Omit<Form<unknown>, 'value' | 'set'>;
  readonly children: ReactNode;
}) {
  const { problems, refused, tries, apply, close } = props.form;
  return (
    <EditorApplySheet
      title={props.title}
      tries={tries}
      other={problems.other ?? refused}
      onApply={apply}
      onClose={close}
    >
      {props.children}
    </EditorApplySheet>
  );
}
