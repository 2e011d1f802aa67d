import type { ReactNode } from 'react';
import './facts.css';

export interface Fact {
  readonly id: string;
  readonly label: string;
  readonly value: ReactNode;
  /** A quiet line under the value, such as its source. */
  readonly note?: string | undefined;
}

interface FactsProps {
  readonly facts: readonly Fact[];
  /** `large` for values that are read back aloud. */
  readonly size?: 'plain' | 'large' | undefined;
}

/** Names and values in two columns: a read-back, the inputs of a formula, the head of a record. */
export function Facts(props: FactsProps) {
  return (
    <dl className="lw-facts" data-size={props.size ?? 'plain'}>
      {props.facts.map((fact) => (
        <div key={fact.id} className="lw-fact">
          <dt>{fact.label}</dt>
          <dd>
            {fact.value}
            {fact.note !== undefined && <span className="lw-fact-note">{fact.note}</span>}
          </dd>
        </div>
      ))}
    </dl>
  );
}

interface DisclosureProps {
  /** What is shown when it is opened: "How this was computed". */
  readonly summary: string;
  readonly children: ReactNode;
  readonly open?: boolean | undefined;
}

/** Something that is there for those who want it; a native details element. */
export function Disclosure(props: DisclosureProps) {
  return (
    <details className="lw-disclosure" open={props.open}>
      <summary>{props.summary}</summary>
      <div className="lw-disclosure-body">{props.children}</div>
    </details>
  );
}
