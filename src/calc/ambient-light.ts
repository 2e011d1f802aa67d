/**
 * Lamp light that uncured material has already received, against the exposure it must stand in the
 * ISO 4049 ambient-light test (8000 lx for 60 s, so 480 klx s). Lux times seconds add up, as the
 * measured working times at 8 and 24 klx show. Lux is photopic: it holds for lamps like those tested.
 */
import { ok } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readList, readNumber, readObject } from './reading.ts';

/** ISO 4049 ambient-light test: the material stays homogeneous after 60 s at 8000 lx. */
export const ISO_4049_PASS_LUX = 8000;
export const ISO_4049_PASS_SECONDS = 60;
/** Mean of 23 composites as measured: 54 s at 24 klx and 162 s at 8 klx. Not a limit to plan by. */
export const MEASURED_MEAN_LUX_SECONDS = 24_000 * 54;

interface LampExposure {
  /** Illuminance at the material, lx. */
  readonly lux: number;
  readonly seconds: number;
}

interface AmbientLight {
  /** 1 when the whole allowance is used; above 1 when more was received. */
  readonly usedFraction: number;
  /** Seconds left under the last light; null when no light falls or none was named. */
  readonly secondsLeftAtLastLux: number | null;
}

/**
 * Share of the allowance used and time left under the last light.
 * @param light pass level (lx and s, both above 0) and exposures in order, lux and seconds 0 or more.
 */
export function ambientLight(light: {
  readonly passLux: number;
  readonly passSeconds: number;
  readonly exposures: readonly LampExposure[];
}): AmbientLight {
  const allowed = light.passLux * light.passSeconds;
  const received = light.exposures.reduce((sum, each) => sum + each.lux * each.seconds, 0);
  const lastLux = light.exposures.at(-1)?.lux ?? 0;
  return {
    usedFraction: received / allowed,
    secondsLeftAtLastLux: lastLux === 0 ? null : Math.max(0, allowed - received) / lastLux,
  };
}

const readSeconds = readNumber({ min: 0, sane: 1_000_000 });

/** `ambient-light`: allowance used by lamp light. */
export const ambientLightCalc: Calc = defineCalc(
  {
    name: 'ambient-light',
    about: 'share of the ambient-light allowance used, and time left under the last light',
    source:
      'ISO 4049 ambient-light test, 8000 lx for 60 s (480 klx s), the pass level; composites lasted 1296 klx s on average (54 s at 24 klx, 162 s at 8 klx: "Ambient light working times of visible light-cured restorative materials", abstract)',
  },
  readObject({
    passLux: readNumber({ above: 0, sane: 1_000_000 }),
    passSeconds: readNumber({ above: 0, sane: 1_000_000 }),
    exposures: readList(
      readObject({ lux: readNumber({ min: 0, sane: 1_000_000 }), seconds: readSeconds }),
      { min: 0, max: 1000 },
    ),
  }),
  (input) => ok(ambientLight(input)),
);
