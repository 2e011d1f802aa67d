/**
 * Numbers against the published range of their class of step. What lies outside is a caution with
 * the range and its source; nothing is ever kept away, because product instructions win.
 */
import type { PracticeFinding } from './ranges-practice.ts';
import type { RangeRow } from './ranges-table.ts';
import type { Protocol, Step } from './types.ts';

interface Compared {
  readonly of: RangeRow['of'];
  readonly key: string;
  /** In the unit of the table: seconds or coats. */
  readonly value: number;
}

/** The numbers of a step that ranges are about. Its bounds are compared as well as its target. */
function comparedOf({ action }: Step): readonly Compared[] {
  const seconds = (ms: number): number => ms / 1000;
  switch (action.kind) {
    case 'dwell':
      return (['minMs', 'targetMs', 'maxMs'] as const).flatMap((name) => {
        const figure = action[name];
        if (figure === undefined) return [];
        return [{ of: 'dwell', key: `action.${name}`, value: seconds(figure.value) }];
      });
    case 'coats':
      return [{ of: 'coats', key: 'action.count', value: action.count.value }];
    case 'expose': {
      const { perSurfaceMs } = action;
      if (perSurfaceMs === undefined) return [];
      const value = seconds(perSurfaceMs.value);
      return [{ of: 'exposure', key: 'action.perSurfaceMs', value }];
    }
    case 'confirm':
    case 'tally':
    case 'choose':
      return [];
  }
}

/** The range that a number of this step is compared with; null when none is known. */
export function rangeFor(step: Step, key: string, ranges: readonly RangeRow[]): RangeRow | null {
  const of = comparedOf(step).find((compared) => compared.key === key)?.of;
  return ranges.find((row) => row.rangeClass === step.rangeClass && row.of === of) ?? null;
}

/** Whether a value, in the unit of the row, lies outside of it. */
export function isOutside(row: RangeRow, value: number): boolean {
  return (row.min !== null && value < row.min) || (row.max !== null && value > row.max);
}

/** A caution for every number outside the range of its class. */
export function checkRanges(
  protocol: Protocol,
  ranges: readonly RangeRow[],
): readonly PracticeFinding[] {
  return protocol.steps.flatMap((step, i) =>
    comparedOf(step).flatMap(({ key, value }): PracticeFinding[] => {
      const row = rangeFor(step, key, ranges);
      if (row === null || !isOutside(row, value)) return [];
      return [
        {
          code: 'outside-range',
          level: 'caution',
          place: `protocol.steps[${i}].${key}`,
          values: {
            title: step.title,
            key,
            value,
            min: row.min ?? -1,
            max: row.max ?? -1,
            unit: row.unit,
            source: row.source,
            standing: row.standing,
          },
        },
      ];
    }),
  );
}
