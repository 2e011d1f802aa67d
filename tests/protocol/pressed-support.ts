import shipped from '../../shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json' with {
  type: 'json',
};
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { drop, type Json, json, put } from './documents.ts';

/** The first template with every way of pressing in it. For tests only. Times in ms. */

const whole = json(JSON.stringify(shipped));

/** The first template with one press for each, whatever it ships with. */
export const plainTemplate: Json = shipped.steps.reduce<Json>(
  (document, _, i) => drop(document, ['steps', i, 'pressed']),
  drop(whole, ['lists']),
);

export function read(value: Json): Protocol {
  const parsed = parseProtocol(value);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

const ids = read(plainTemplate).steps.map(({ id }) => id);

/** Where a step of the template lies, and what is inside of it. */
export const inStep = (id: string, ...rest: (string | number)[]) => [
  'steps',
  ids.indexOf(id),
  ...rest,
];

const figure = (value: number): Json => ({ value, basis: { kind: 'practice' } });
export const sweepTime = (shortestMs: number, longestMs: number): Json => ({
  shortestMs: figure(shortestMs),
  longestMs: figure(longestMs),
});

export const PRESSED: Readonly<Record<string, Json>> = {
  'read-teeth': { kind: 'list', list: 'pause' },
  'read-protocol': { kind: 'list', list: 'pause' },
  signals: { kind: 'list', list: 'pause' },
  'read-materials': { kind: 'list', list: 'pause' },
  'read-allergies': { kind: 'list', list: 'pause' },
  'read-people': { kind: 'list', list: 'pause' },
  charge: { kind: 'list', list: 'pause' },
  acid: { kind: 'sweep', start: sweepTime(3000, 8000), end: sweepTime(4000, 10_000) },
  'etch-dentine': { kind: 'sweep', end: sweepTime(4000, 10_000) },
  load: { kind: 'implied', by: ['seat'] },
  excess: { kind: 'implied', by: ['tack'] },
  'excess-mix': { kind: 'implied', by: ['tack'] },
  tack: { kind: 'paced', changeMs: figure(4000), confirmedBy: 'gel-lifted' },
  'gel-lifted': { kind: 'implied', by: ['contacts-flossed'] },
  expose: { kind: 'paced', changeMs: figure(4000), confirmedBy: 'gel-rinsed' },
};

export function withPressed(document: Json, pressed: Readonly<Record<string, Json>>): Json {
  return Object.entries(pressed).reduce(
    (d, [id, how]) => put(d, inStep(id, 'pressed'), how),
    document,
  );
}

const lists: Json = [{ id: 'pause', title: 'Pause', words: 'Pause read out' }];

/** Every way of pressing, each on steps that it fits. */
export const pressedTemplate: Json = withPressed(put(plainTemplate, ['lists'], lists), PRESSED);
