/**
 * Emitted seconds of a curing light per person and day, against published times. Two published
 * anchors: looking straight at the strongest of eleven lights, 150 s at 10 cm (McCusker et al.,
 * Dent Mater 2013;29:e85); light reflected from a tooth, 660 s at 40 cm (Price et al., J Occup
 * Environ Hyg 2016;13:639). Other distances follow the inverse square, which the first paper's
 * own 30 and 60 cm values keep within 2 %; for reflected light it is an assumption.
 */
import { ok } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readChoice, readList, readNumber, readObject, readOr } from './reading.ts';

type LightRoute = 'direct' | 'reflected';

const ANCHORS: Readonly<Record<LightRoute, { readonly cm: number; readonly seconds: number }>> = {
  direct: { cm: 10, seconds: 150 },
  reflected: { cm: 40, seconds: 660 },
};

/** Seconds per day at a distance (above 0 cm) before the published time is reached. */
export function dayLimitSeconds(view: {
  readonly route: LightRoute;
  readonly distanceCm: number;
}): number {
  const anchor = ANCHORS[view.route];
  return anchor.seconds * (view.distanceCm / anchor.cm) ** 2;
}

interface PersonExposure {
  readonly person: string;
  readonly route: LightRoute;
  readonly distanceCm: number;
  readonly seconds: number;
  /** Share of blue light that the filter before the eyes lets through; 1 without a filter. */
  readonly filterTransmittance: number;
}

interface PersonDay {
  readonly person: string;
  /** 1 when the published time is reached. */
  readonly usedFraction: number;
}

/** Shares of the published times used by each person in one day, in order of appearance. */
function blueLightDay(exposures: readonly PersonExposure[]): readonly PersonDay[] {
  const used = new Map<string, number>();
  for (const each of exposures) {
    const share = (each.seconds * each.filterTransmittance) / dayLimitSeconds(each);
    used.set(each.person, (used.get(each.person) ?? 0) + share);
  }
  return [...used].map(([person, usedFraction]) => ({ person, usedFraction }));
}

/** `blue-light-day`: published daily times used by each person. */
export const blueLightDayCalc: Calc = defineCalc(
  {
    name: 'blue-light-day',
    about: 'share of the published daily viewing times used by each person',
    source:
      'direct: McCusker et al., Dent Mater 2013;29:e85 (strongest of 11 lights, 2.5 min at 10 cm); reflected: Price et al., J Occup Environ Hyg 2016;13:639 (about 11 min per 8 h at 40 cm, no filter); inverse square between distances',
  },
  readObject({
    exposures: readList(
      readObject({
        person: readChoice(['dentist', 'assistant', 'patient', 'other']),
        route: readChoice(['direct', 'reflected']),
        distanceCm: readNumber({ min: 1, sane: 1000 }),
        seconds: readNumber({ min: 0, sane: 86_400 }),
        filterTransmittance: readOr(readNumber({ min: 0, max: 1 }), 1),
      }),
      { min: 1, max: 1000 },
    ),
  }),
  ({ exposures }) => ok({ people: blueLightDay(exposures) }),
);
