/**
 * The worked example of Dechter, Meiri & Pearl, Temporal constraint networks, Artificial
 * Intelligence 49:61-95, 1991, doi 10.1016/0004-3702(91)90006-6 (example 1.1 and its simple
 * version). John goes to work by car (30-40 min) or bus (60 or more), Fred by car (20-30) or in a
 * carpool (40-50). John left home between 7:10 and 7:20, Fred arrived between 8:00 and 8:10, and
 * John arrived 10 to 20 min after Fred left home. x0 is 7:00, x1 John leaves, x2 John arrives,
 * x3 Fred leaves, x4 Fred arrives; minutes.
 *
 * The story's figures and the table of distances are from memory of the paper; each entry of the
 * table was worked out again by hand, the path is named beside it.
 */
import { describe, expect, it } from 'vitest';
import type { Constraint } from '../../src/temporal/constraint.ts';
import { minimalNetwork } from '../../src/temporal/minimal-network.ts';

const johnByCar: Constraint = { from: 'x1', to: 'x2', minMs: 30, maxMs: 40 };
const johnByBus: Constraint = { from: 'x1', to: 'x2', minMs: 60 };
const fredByCar: Constraint = { from: 'x3', to: 'x4', minMs: 20, maxMs: 30 };
const fredInCarpool: Constraint = { from: 'x3', to: 'x4', minMs: 40, maxMs: 50 };

const day = (john: Constraint, fred: Constraint): Constraint[] => [
  { from: 'x0', to: 'x1', minMs: 10, maxMs: 20 },
  john,
  { from: 'x3', to: 'x2', minMs: 10, maxMs: 20 },
  fred,
  { from: 'x0', to: 'x4', minMs: 60, maxMs: 70 },
];

const boundsOf = (constraints: Constraint[], from: string, to: string) => {
  const network = minimalNetwork(constraints);
  if (!network.consistent) throw new Error('the example should be consistent');
  return network.bounds({ from, to });
};

describe('the worked example of 1991: John by car, Fred in the carpool', () => {
  const rows: [string, string, number, string][] = [
    ['x0', 'x0', 0, 'itself'],
    ['x0', 'x1', 20, '0-1'],
    ['x0', 'x2', 50, '0-4-3-2: 70-40+20'],
    ['x0', 'x3', 30, '0-4-3: 70-40'],
    ['x0', 'x4', 70, '0-4'],
    ['x1', 'x0', -10, '1-0'],
    ['x1', 'x1', 0, 'itself'],
    ['x1', 'x2', 40, '1-2'],
    ['x1', 'x3', 20, '1-0-4-3: -10+70-40'],
    ['x1', 'x4', 60, '1-0-4: -10+70'],
    ['x2', 'x0', -40, '2-1-0: -30-10'],
    ['x2', 'x1', -30, '2-1'],
    ['x2', 'x2', 0, 'itself'],
    ['x2', 'x3', -10, '2-3'],
    ['x2', 'x4', 30, '2-1-0-4: -30-10+70'],
    ['x3', 'x0', -20, '3-2-1-0: 20-30-10'],
    ['x3', 'x1', -10, '3-2-1: 20-30'],
    ['x3', 'x2', 20, '3-2'],
    ['x3', 'x3', 0, 'itself'],
    ['x3', 'x4', 50, '3-4'],
    ['x4', 'x0', -60, '4-0'],
    ['x4', 'x1', -50, '4-3-2-1: -40+20-30'],
    ['x4', 'x2', -20, '4-3-2: -40+20'],
    ['x4', 'x3', -40, '4-3'],
    ['x4', 'x4', 0, 'itself'],
  ];
  it.each(rows)('%s to %s is at most %i (%s)', (from, to, most) => {
    expect(boundsOf(day(johnByCar, fredInCarpool), from, to).max).toBe(most);
    expect(boundsOf(day(johnByCar, fredInCarpool), to, from).min).toBe(-most + 0);
  });

  it.each([
    ['x1', 10, 20],
    ['x2', 40, 50],
    ['x3', 20, 30],
    ['x4', 60, 70],
  ])('gives %s the published range %i to %i after 7:00', (moment, min, max) => {
    expect(boundsOf(day(johnByCar, fredInCarpool), 'x0', moment)).toEqual({ min, max });
  });
});

describe('the other ways to work, by hand', () => {
  it('bus and carpool contradict each other: John arrives at 70 or later, but at 50 or earlier', () => {
    const network = minimalNetwork(day(johnByBus, fredInCarpool));
    expect(network).toMatchObject({ consistent: false, shortBy: 20 });
    if (network.consistent) throw new Error('should contradict');
    expect([...network.conflict].sort()).toEqual([0, 1, 2, 3, 4]);
  });

  it('bus and car leave exactly one morning: 7:10, 8:10, 7:50, 8:10', () => {
    // x2 >= 10 + 60 and x2 <= x3 + 20 <= (70 - 20) + 20: every inequality is tight.
    const constraints = day(johnByBus, fredByCar);
    const found = ['x1', 'x2', 'x3', 'x4'].map((to) => boundsOf(constraints, 'x0', to));
    expect(found).toEqual([10, 70, 50, 70].map((at) => ({ min: at, max: at })));
  });

  it('two cars are possible: Fred leaves between 30 and 50, John arrives between 40 and 60', () => {
    const constraints = day(johnByCar, fredByCar);
    expect(boundsOf(constraints, 'x0', 'x3')).toEqual({ min: 30, max: 50 });
    expect(boundsOf(constraints, 'x0', 'x2')).toEqual({ min: 40, max: 60 });
  });
});
