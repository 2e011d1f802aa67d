/**
 * How the times and chances of a plan came about: the chair time, the room in a window, and the
 * share of the draws that break it. Values in s and in shares.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import type { RiskOptions } from './drawn-lengths.ts';
import { type Explanation, explain } from './explanation.ts';
import type { BandRisk, Risk } from './risk.ts';
import type { Band } from './timeline.ts';

const DRAWN =
  'log-normal lengths from median and 90th percentile, a person’s day shared by all of their steps (form: Moscovich, Kreulen, Creugers & Dansen, J Dent 1998; the share is a stand-in)';
const NETWORK =
  'earliest times under all bounds and with every person and the light busy once (simple temporal network: Dechter, Meiri & Pearl, Artificial Intelligence 1991;49:61-95)';

const seconds = (ms: number): number => ms / MS_PER_SECOND;

const drawInputs = ({ samples, seed, sharedShare }: RiskOptions) => ({
  draws: samples,
  seed,
  sharedShare,
});

/** The share of draws in which something is broken. */
function explainChance(id: string, share: number, options: RiskOptions): Explanation {
  return explain({
    id,
    value: share,
    unit: 'share',
    formula: 'share-of-draws',
    inputs: drawInputs(options),
    source: DRAWN,
    calc: null,
    decidedBy: 'draws',
  });
}

/** The chair time of the middle draw, of the slow one in ten, and the chance of any break. */
export function explainChair({ chair, options, pAnyBroken }: Risk): readonly Explanation[] {
  const drawn = (id: string, ms: number, quantile: number) =>
    explain({
      id,
      value: seconds(ms),
      unit: 's',
      formula: 'quantile-of-draws',
      inputs: { quantile, ...drawInputs(options) },
      source: DRAWN,
      calc: null,
      decidedBy: 'draws',
    });
  return [
    drawn('chair/p50', chair.p50Ms, 0.5),
    drawn('chair/p90', chair.p90Ms, 0.9),
    explainChance('chair/any', pAnyBroken, options),
  ];
}

/** The room in one band and, when it was drawn, its chance. */
export function explainBand(
  band: Band,
  risk: BandRisk | undefined,
  options: RiskOptions,
): readonly Explanation[] {
  const room = explain({
    id: `room/${band.of}`,
    value: seconds(band.slackMs),
    unit: 's',
    formula: 'room-at-the-close',
    inputs: { boundSeconds: seconds(band.maxMs), usedSeconds: seconds(band.toMs - band.fromMs) },
    source: NETWORK,
    calc: null,
    decidedBy: 'arithmetic',
  });
  if (risk === undefined) return [room];
  return [room, explainChance(`chance/${band.of}`, risk.pBroken, options)];
}
