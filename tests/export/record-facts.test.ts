import { it, expect } from 'vitest';
import { recordFacts } from '../../src/export/record-facts.ts';
import { finished, followed, sourceOf } from './journals.ts';
it('x', () => {
  const f = recordFacts(sourceOf(finished().log));
  console.log(JSON.stringify(f, null, 1).slice(0, 200000));
  console.log(followed('two-veneers').log.records.length);
});
