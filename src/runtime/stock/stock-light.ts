/** Readings of each light in time, against the light's own baseline. Pure. */
import { baselineChangePercent } from '../../calc/light-cautions.ts';
import type { LightReading } from './stock-types.ts';

export interface TrendPoint {
  readonly reading: LightReading;
  /** Change against the baseline in force at that time; 0 for the baseline itself. */
  readonly changePercent: number;
}

export interface LightTrend {
  readonly light: string;
  readonly baseline: LightReading;
  /** Oldest first. */
  readonly points: readonly TrendPoint[];
  readonly last: TrendPoint;
}

/**
 * One trend a light, by name. The baseline is the newest reading marked as one, as it stood at the
 * time of each reading; before any mark it is the first reading of the light.
 */
export function lightTrends(readings: readonly LightReading[]): readonly LightTrend[] {
  const names = [...new Set(readings.map((r) => r.light))].sort();
  return names.flatMap((light) => {
    const own = readings
      .filter((r) => r.light === light)
      .toSorted((a, b) => a.onWallMs - b.onWallMs);
    const [first] = own;
    if (first === undefined) return [];
    let baseline = first;
    const points = own.map((reading): TrendPoint => {
      if (reading.isBaseline) baseline = reading;
      const changePercent = baselineChangePercent({
        baselineMwPerCm2: baseline.irradianceMwPerCm2,
        readingMwPerCm2: reading.irradianceMwPerCm2,
      });
      return { reading, changePercent };
    });
    const last = points.at(-1);
    return last === undefined ? [] : [{ light, baseline, points, last }];
  });
}
