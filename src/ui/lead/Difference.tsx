import type { ReactNode } from 'react';

/** One difference between two protocols: what, both values, and what is chosen. */
export function Difference(props: {
  readonly what: string;
  readonly note?: string;
  /** Of a list: what was added to it and taken away from it. */
  readonly difference?: string | undefined;
  readonly before: string;
  readonly after: string;
  /** Whose the values are, where the page does not say it otherwise. */
  readonly labels?: { readonly before: string; readonly after: string };
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
        {props.difference !== undefined && <span className="numbers-note">{props.difference}</span>}
      </div>
      {(['before', 'after'] as const).map((side) => (
        <div key={side}>
          {props.labels !== undefined && <span className="numbers-note">{props.labels[side]}</span>}
          <p data-taken={mark(side)}>{props[side]}</p>
        </div>
      ))}
      {props.children}
      {props.more !== undefined && <div className="compare-more">{props.more}</div>}
    </li>
  );
}
