/** Everything the checks say about a draft, each with the spot it is about. */
import table from '../../../../shared/tables/step-ranges.json' with { type: 'json' };
import { checkDocument } from '../../../plan/check-windows.ts';
import type { CaseFile } from '../../../protocol/case-types.ts';
import { itemAt, type Spot, spotOfPlace, titleOf } from '../../../protocol/edit-types.ts';
import { checkRanges, isOutside, rangeFor } from '../../../protocol/ranges.ts';
import { checkPractice } from '../../../protocol/ranges-practice.ts';
import { parseRanges } from '../../../protocol/ranges-table.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { figureLabel, isFigureKey } from '../../../words/figure-words.ts';
import { findingWords, rangeWords } from '../../../words/finding-words.ts';

export interface DraftFinding {
  readonly id: string;
  readonly level: 'error' | 'caution';
  readonly words: string;
  /** Null when it is about the protocol as a whole. */
  readonly spot: Spot | null;
  readonly place: string;
}

const parsed = parseRanges(table);
const RANGES = parsed.ok ? parsed.value : [];

/** Faults first. Windows are asked about only when the document means something. */
export function draftFindings(
  protocol: Protocol,
  prepared: readonly CaseFile[],
): readonly DraftFinding[] {
  const cases = prepared.filter((spec) => spec.protocol === protocol.id);
  const all = [
    ...checkDocument(protocol),
    ...checkRanges(protocol, RANGES),
    ...checkPractice(protocol, cases),
  ];
  return all
    .map((finding, i) => ({
      id: `${i} ${finding.code} ${finding.place}`,
      level: finding.level,
      words: namedWords(protocol, finding),
      spot: spotOfPlace(protocol, finding.place),
      place: finding.place,
    }))
    .toSorted((a, b) => Number(a.level === 'caution') - Number(b.level === 'caution'));
}

/** What is found, with the step, window or other entry that it is found in. */
function namedWords(
  protocol: Protocol,
  finding: Parameters<typeof findingWords>[0] & { place: string },
) {
  const words = findingWords(finding);
  const spot = spotOfPlace(protocol, finding.place);
  if (spot === null || spot.part === 'protocol') return words;
  const item = itemAt(protocol, { part: spot.part, id: spot.id });
  const title = item === undefined ? '' : titleOf(item);
  if (title === '' || words.includes(title)) return words;
  const label = isFigureKey(spot.key) ? figureLabel(spot.key) : null;
  return label === null
    ? editorWords.refusal.ofEntry({ title, need: words })
    : editorWords.refusal.of({ title, label, need: words });
}

/** The range to show beside a number that is being typed; null when none is known. */
export function rangeHint(
  protocol: Protocol,
  spot: Spot,
  value: number | null,
): { readonly words: string; readonly isOutside: boolean } | null {
  const step = spot.part === 'steps' ? protocol.steps.find((s) => s.id === spot.id) : undefined;
  const row = step === undefined ? null : rangeFor(step, spot.key, RANGES);
  if (row === null) return null;
  const range = rangeWords(row);
  const inUnit = row.unit === 's' && value !== null ? value / 1000 : value;
  return {
    words: editorWords.range({ range, source: row.source }),
    isOutside: inUnit !== null && isOutside(row, inUnit),
  };
}

/** The classes of step that a range is known for, and the one a step has already. */
export function knownRangeClasses(own: string | undefined): readonly string[] {
  const known = RANGES.filter(({ of }) => of !== 'sweep' && of !== 'change-over').map(
    (row) => row.rangeClass,
  );
  return [...new Set([...(own === undefined ? [] : [own]), ...known, 'sample-bead'])].toSorted();
}
