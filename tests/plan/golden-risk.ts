/** One small risk, to the last digit, for comparing devices with each other. */
import { makePlan } from '../../src/plan/make-plan.ts';
import { caseOf, SMALL_WHOLE } from '../engine/fixture.ts';

export function goldenRisk() {
  const spec = caseOf(['11', '21', '12']);
  const input = { spec, protocol: SMALL_WHOLE, tables: null, risk: { seed: 42, samples: 500 } };
  const { chair, pBrokenByWindow } = makePlan(input).risk;
  return { chair, pBrokenByWindow };
}

/** As computed on Node; every other device has to give the same. */
export const GOLDEN_RISK: ReturnType<typeof goldenRisk> = {
  chair: { meanMs: 247422.0112843661, p50Ms: 245628.53406484987, p90Ms: 268151.19694745186 },
  pBrokenByWindow: { etch: 0, 'wet-surface': 0, working: 0 },
};
