/**
 * Temperature and the cement: how long a cold syringe takes to come to the room's temperature, and
 * how a warm room shortens a working time.
 *
 * Newton: T(t) = room + (start - room) * exp(-t / tau). Q10: t(T) = t_ref * Q10^(-(T - T_ref) / 10),
 * an engineering assumption, since no published Q10 of a luting cement was found; it only ever
 * shortens a working time and it concerns the self-cure clock, not light exposure.
 */
import { ok } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readNumber, readObject } from './reading.ts';

/** Q10 = 2 corresponds to an activation energy of 52 kJ/mol near 28 C; editable, unconfirmed. */
export const Q10_ASSUMED = 2;

/**
 * Temperature in C after `seconds`, warming or cooling towards the room.
 * @param body start and room in C; time constant above 0 s; seconds 0 or more.
 */
export function temperatureC(body: {
  readonly startC: number;
  readonly roomC: number;
  readonly timeConstantSeconds: number;
  readonly seconds: number;
}): number {
  const left = Math.exp(-body.seconds / body.timeConstantSeconds);
  return body.roomC + (body.startC - body.roomC) * left;
}

/**
 * Seconds until the temperature is within `withinC` of the room; 0 when it already is.
 * @param body start and room in C; time constant and withinC above 0.
 */
export function warmupSeconds(body: {
  readonly startC: number;
  readonly roomC: number;
  readonly timeConstantSeconds: number;
  readonly withinC: number;
}): number {
  const gapC = Math.abs(body.startC - body.roomC);
  return gapC <= body.withinC ? 0 : body.timeConstantSeconds * Math.log(gapC / body.withinC);
}

/** Factor on the duration of a reaction when it runs at `actualC` instead of `referenceC`. */
export function q10Factor(heat: {
  readonly referenceC: number;
  readonly actualC: number;
  readonly q10: number;
}): number {
  return heat.q10 ** (-(heat.actualC - heat.referenceC) / 10);
}

/**
 * Working time in seconds at the actual temperature, never longer than the reference.
 * @param cement reference 0 or more s; temperatures in C; q10 of 1 or more.
 */
export function workingSeconds(cement: {
  readonly referenceSeconds: number;
  readonly referenceC: number;
  readonly actualC: number;
  readonly q10: number;
}): number {
  return cement.referenceSeconds * Math.min(1, q10Factor(cement));
}

const readCelsius = readNumber({ min: -80, max: 150 });
const readDuration = readNumber({ min: 0, sane: 1_000_000 });

/** `warmup`: time to come within some degrees of the room. */
export const warmupCalc: Calc = defineCalc(
  {
    name: 'warmup',
    about: 'seconds until something cold is within some degrees of the room',
    source:
      "Newton's law of cooling; time constants: 173 s for a small compule (from Daronch et al., J Dent Res 2006, second-hand), 430-570 s for a bottle or syringe (derived, weak). Product instructions override it",
  },
  readObject({
    startC: readCelsius,
    roomC: readCelsius,
    timeConstantSeconds: readNumber({ above: 0, sane: 1_000_000 }),
    withinC: readNumber({ above: 0, sane: 100 }),
  }),
  (input) => ok({ seconds: warmupSeconds(input) }),
);

/** `working-time`: a working time in a warmer room. */
export const workingTimeCalc: Calc = defineCalc(
  {
    name: 'working-time',
    about: 'working time at the actual temperature, never longer than the reference',
    source:
      'Q10 form of the Arrhenius law; the Q10 of a luting cement is an engineering assumption, editable, and only ever shortens. Warmer is shorter: Oper Dent 2015;40:E222. Product instructions override it',
  },
  readObject({
    referenceSeconds: readDuration,
    referenceC: readCelsius,
    actualC: readCelsius,
    q10: readNumber({ min: 1, sane: 10 }),
  }),
  (input) => ok({ seconds: workingSeconds(input) }),
);
