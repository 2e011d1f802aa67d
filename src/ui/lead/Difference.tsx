import type { ReactNode } from 'react';

/** One difference between two protocols: what, both values, and what is chosen. */
export function Difference(props: {
  readonly what: string;
  readonly note?: string;
  readonly before: string;
  readonly after: string;
  /** Which value is taken; null while neither is. */
  readonly taken: 'before' | 'after' | null;
  /** The control that chooses. */
  readonly children: ReactNode;
  /** More about it, under the values. */
  readonly more?: ReactNode;
}) {
  const { taken } = props;
  const mark = (side: 'before' | 'after') => (taken === null ? undefined : taken === side);
  return (
    <li className="compare-row">
      <div>
        <strong>{props.what}</strong>
        {props.note !== undefined && <span className="numbers-note">{props.note}</span>}
      </div>
      <p data-taken={mark('before')}>{props.before}</p>
      <p data-taken={mark('after')}>{props.after}</p>
      {props.children}
      {props.more !== undefined && <div className="compare-more">{props.more}</div>}
    </li>
  );
}
