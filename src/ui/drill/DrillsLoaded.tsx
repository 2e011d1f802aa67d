import type { ReactNode } from 'react';
import { drillWords } from '../../words/drill-words.ts';
import { Banner } from '../parts/Banner.tsx';
import type { Loaded } from '../shared/use-loaded.ts';

/** What is read of the drills that are kept; while it is read, and where it cannot be, that is said in its place. */
export function DrillsLoaded<T>(o: {
  readonly loaded: Loaded<T>;
  readonly children: (value: T) => ReactNode;
}) {
  const { loaded } = o;
  const { readiness } = drillWords;
  if (loaded.state === 'loaded') return o.children(loaded.value);
  if (loaded.state === 'loading') return <p role="status">{readiness.reading}</p>;
  return <Banner tone="broken" words={readiness.notRead} advice={readiness.notReadTodo} />;
}
