/** What is typed for a step that asks for a reading or a remark, as it is judged and recorded. Pure. */
import type { Light } from '../../protocol/case-types.ts';
import type { Evidence } from '../../protocol/types.ts';
import { baselineWords, evidenceWords } from '../../words/chair-words.ts';

export type TypedEvidence = Extract<Evidence, { kind: 'reading' | 'note' }>;

const numberIn = (text: string): number => Number(text.replace(',', '.'));

/** A reading outside its range is told before the press and kept as it was typed. */
export function isOutside(text: string, evidence: TypedEvidence): boolean {
  if (evidence.kind !== 'reading' || text.trim() === '') return false;
  const value = numberIn(text);
  return !(value >= evidence.min && value <= evidence.max);
}

export const isNumber = (text: string): boolean => Number.isFinite(numberIn(text));

/** How a reading of the light stands to that light's own baseline; null where none is known. */
export function againstBaseline(
  text: string,
  evidence: TypedEvidence,
  light: Light,
): string | null {
  const { baselineMwPerCm2 } = light;
  const isAsked = evidence.kind === 'reading' && evidence.against === 'light-baseline';
  const value = numberIn(text);
  if (!isAsked || baselineMwPerCm2 === undefined || !(value > 0)) return null;
  return baselineWords(Math.round((100 * value) / baselineMwPerCm2));
}

function valueWords(text: string, evidence: TypedEvidence): string {
  const value = text.trim();
  if (evidence.kind === 'note') return value;
  return isOutside(text, evidence)
    ? evidenceWords.outside({ value, ...evidence })
    : evidenceWords.value({ value, unit: evidence.unit });
}

/** What is recorded of it. */
export function typedWords(text: string, evidence: TypedEvidence, light: Light): string {
  const share = againstBaseline(text, evidence, light);
  const value = valueWords(text, evidence);
  return share === null ? value : evidenceWords.withBaseline({ value, share });
}
