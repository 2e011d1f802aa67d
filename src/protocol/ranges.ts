/**
 * Numbers against the published range of their class of step. What lies outside is a caution with
 * the range and its source; nothing is ever kept away, because product instructions win.
 */
import type { PracticeFinding } from './ranges-practice.ts';
import type { RangeRow } from './ranges-table.ts';
import type { DwellTimes, Protocol, Step } from './types.ts';

interface Compared {
  readonly of: RangeRow['of'];
  readonly key: string;
  /** The class of step that it is compared with. */
  readonly rangeClass: string | undefined;
  /** In the unit of the table: seconds or coats. */
  readonly value: number;
}

/** The times of a dwell, those of single classes of material included, with where they stand. */
function dwellTimes(
  action: Extract<Step['action'], { kind: 'dwell' }>,
): readonly (readonly [at: string, times: DwellTimes])[] {
  const own = Object.entries(action.byMaterial ?? {});
  const { variants = [] } = action;
  return [
    ['action', action],
    ...own.map(([material, times]) => [`action.byMaterial.${material}`, times] as const),
    ...variants.map((times, i) => [`action.variants.${i}`, times] as const),
  ];
}

/** Moving on from one subject to the next takes alike long whatever the step does. */
function pressedTimes({ pressed }: Step): readonly Compared[] {
  const time = (of: 'sweep' | 'change-over', key: string, ms: number): Compared => ({
    of,
    key: `pressed.${key}`,
    rangeClass: of,
    value: ms / 1000,
  });
  if (pressed?.kind === 'paced') return [time('change-over', 'changeMs', pressed.changeMs.value)];
  if (pressed?.kind !== 'sweep') return [];
  return (['start', 'end'] as const).flatMap((edge) => {
    const each = pressed[edge];
    if (each === undefined) return [];
    return (['shortestMs', 'longestMs'] as const).map((name) =>
      time('sweep', `${edge}.${name}`, each[name].value),
    );
  });
}

/** The numbers of a step that ranges are about. Its bounds are compared as well as its target. */
function comparedOf(step: Step): readonly Compared[] {
  return [...actionTimes(step), ...pressedTimes(step)];
}

function actionTimes({ action, rangeClass }: Step): readonly Compared[] {
  const seconds = (ms: number): number => ms / 1000;
  switch (action.kind) {
    case 'dwell':
      return dwellTimes(action).flatMap(([at, times]) =>
        (['minMs', 'targetMs', 'maxMs'] as const).flatMap((name): readonly Compared[] => {
          const figure = times[name];
          if (figure === undefined) return [];
          const own = times.rangeClass ?? rangeClass;
          const value = seconds(figure.value);
          return [{ of: 'dwell', key: `${at}.${name}`, rangeClass: own, value }];
        }),
      );
    case 'coats':
      return [{ of: 'coats', key: 'action.count', rangeClass, value: action.count.value }];
    case 'expose': {
      const { perSurfaceMs } = action;
      if (perSurfaceMs === undefined) return [];
      const value = seconds(perSurfaceMs.value);
      return [{ of: 'exposure', key: 'action.perSurfaceMs', rangeClass, value }];
    }
    case 'confirm':
    case 'tally':
    case 'choose':
      return [];
  }
}

/** The range that a number of this step is compared with; null when none is known. */
export function rangeFor(step: Step, key: string, ranges: readonly RangeRow[]): RangeRow | null {
  const found = comparedOf(step).find((compared) => compared.key === key);
  return ranges.find((row) => row.rangeClass === found?.rangeClass && row.of === found?.of) ?? null;
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
