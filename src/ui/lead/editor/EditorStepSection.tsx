import { type ReactNode, useEffect, useRef, useState } from 'react';

/**
 * One group of the fields of a step, which opens by a press on its head. It opens by itself where something
 * in it is wrong and the form was to be applied, so that the field can be led to. A step has many fields:
 * those of a group are there once it was opened.
 */
export function StepSection(props: {
  readonly title: string;
  /** What stands in it, in one line, for as long as it is closed. */
  readonly note: string;
  /** Whether it is open when the sheet opens. */
  readonly isFirst?: boolean;
  readonly hasProblem: boolean;
  /** Counts the attempts to apply. */
  readonly tries: number;
  readonly children: ReactNode;
}) {
  const { tries } = props;
  const isNeeded = tries > 0 && props.hasProblem;
  const details = useRef<HTMLDetailsElement>(null);
  const [wasOpened, setWasOpened] = useState(props.isFirst === true);
  useEffect(() => {
    // Opened at each attempt, also where a person closed it since; the form looks for its first wrong field after this.
    if (tries > 0 && isNeeded && details.current !== null) details.current.open = true;
  }, [tries, isNeeded]);
  return (
    <details
      ref={details}
      className="lw-disclosure editor-section"
      open={props.isFirst === true}
      onToggle={(event) => {
        if (event.currentTarget.open) setWasOpened(true);
      }}
    >
      <summary>
        <span>{props.title}</span>
        <span className="numbers-note">{props.note}</span>
      </summary>
      {(wasOpened || isNeeded) && <div className="editor-form">{props.children}</div>}
    </details>
  );
}
