/** The shipped documents as tests of the plan read them. */
import { readFileSync } from 'node:fs';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import type { Protocol } from '../../src/protocol/types.ts';

export const textOf = (path: string): string =>
  readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

export function shippedCase(name: 'eight-upper-veneers' | 'two-veneers'): CaseFile {
  const parsed = parseCaseText(textOf(`demo-data/cases/${name}.json`));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

export function firstTemplate(): Protocol {
  const file = 'shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json';
  const parsed = parseProtocolText(textOf(file));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}
