/** What the sides of one prepared case differ in, side by side. Pure. */
import type { CaseFile } from '../../../protocol/case-types.ts';
import type { ProtocolEntry } from '../../../runtime/app-state.ts';
import { differingParts } from '../../../runtime/library/differing-parts.ts';
import { CASE_PARTS, type CasePart } from '../../../words/codes.ts';
import type { Times } from '../../../words/date-words.ts';
import { formatQuantity } from '../../../words/number.ts';
import { toothLabel } from '../../../words/subject-words.ts';

interface Telling {
  readonly protocols: readonly ProtocolEntry[];
  readonly times: Times;
}

function lightTold({ light: { label, irradianceMwPerCm2 } }: CaseFile): string {
  const value = formatQuantity({ value: irradianceMwPerCm2, unit: 'mW/cm²', digits: 0 });
  return `${label} ${value}`;
}

/** One part of a case in a line; null where it is no line. */
function toldPart(part: CasePart, spec: CaseFile, o: Telling): string | null {
  switch (part) {
    case 'allergies':
      return spec.allergies ?? '';
    case 'title':
      return spec.title;
    case 'chart':
      return spec.chartRef;
    case 'date':
      return spec.scheduledFor === undefined ? '' : o.times.moment(Date.parse(spec.scheduledFor));
    case 'protocol':
      return (
        o.protocols.find(({ protocol }) => protocol.id === spec.protocol)?.protocol.title ??
        spec.protocol
      );
    case 'units':
      return spec.units
        .flatMap(({ teeth }) => teeth)
        .map((tooth) => toothLabel(tooth, spec.notation))
        .join(', ');
    case 'people':
      return spec.people.map(({ label }) => label).join(', ');
    case 'light':
      return lightTold(spec);
    default:
      return null;
  }
}

/**
 * For each part that is not the same on all sides what each of them says, in the order of the sides; null
 * where it takes the case itself to see it.
 */
export function preparedParts(
  specs: readonly CaseFile[],
  o: Telling,
): readonly { readonly part: CasePart; readonly values: readonly string[] | null }[] {
  const [first, ...others] = specs;
  if (first === undefined) return [];
  const parts = new Set(
    others.flatMap((other) => differingParts(first, other)).map(({ part }) => part),
  );
  return CASE_PARTS.filter((part) => parts.has(part)).map((part) => {
    const values = specs.map((spec) => toldPart(part, spec, o));
    const told = values.flatMap((value) => (value === null ? [] : [value]));
    const isSeen = told.length === specs.length && new Set(told).size > 1;
    return { part, values: isSeen ? told : null };
  });
}
