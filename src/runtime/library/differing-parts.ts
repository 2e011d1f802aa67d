/** What two versions of one prepared case differ in, by the parts that people know. Pure. */
import { canonicalText } from '../../protocol/canonical-text.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { CASE_PARTS, type CasePart } from '../../words/codes.ts';

const PART_OF: Readonly<Partial<Record<keyof CaseFile, CasePart>>> = {
  units: 'units',
  teeth: 'teeth',
  protocol: 'protocol',
  scheduledFor: 'date',
  allergies: 'allergies',
  anaesthesia: 'anaesthesia',
  people: 'people',
  light: 'light',
  title: 'title',
  chartRef: 'chart',
};

interface DifferingPart {
  readonly part: CasePart;
  /** What each says in words, the shown one first; null where it is no short text. */
  readonly texts: readonly [string, string] | null;
}

const textOf = (value: unknown): string | null =>
  value === undefined ? '' : typeof value === 'string' ? value : null;

/** Each part once, what can hurt first. */
export function differingParts(shown: CaseFile, other: CaseFile): readonly DifferingPart[] {
  const keys = new Set([...Object.keys(shown), ...Object.keys(other)]) as ReadonlySet<
    keyof CaseFile
  >;
  const found = new Map<CasePart, DifferingPart>();
  for (const key of keys) {
    const isSame = canonicalText(shown[key] ?? null) === canonicalText(other[key] ?? null);
    if (isSame) continue;
    const part = PART_OF[key] ?? 'rest';
    const [one, two] = [textOf(shown[key]), textOf(other[key])];
    const texts = part === 'rest' || one === null || two === null ? null : ([one, two] as const);
    found.set(part, { part, texts });
  }
  return CASE_PARTS.flatMap((part) => found.get(part) ?? []);
}
