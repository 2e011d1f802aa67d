// A fold adds to runs that it has made itself; a state that somebody holds is never among them.
import { describe, expect, it } from 'vitest';
import { deepFreeze } from '../../src/base/freeze.ts';
import { apply } from '../../src/engine/apply.ts';
import { extend, momentsOf, replay, stateBefore } from '../../src/engine/log.ts';
import type { CaseState } from '../../src/engine/types.ts';
import { eventful, finished } from '../export/journals.ts';

const logs = [
  ['an eventful case', eventful().log],
  ['a finished case', finished().log],
] as const;

describe('a state that is held', () => {
  it.each(logs)('stays as it is while %s goes on', (_, { records }) => {
    const frozen: CaseState[] = [];
    let log = extend(null, records.slice(0, 1));
    for (const record of records.slice(1)) {
      frozen.push(deepFreeze(log.state));
      log = extend(log, [record]);
    }
    expect(frozen).toHaveLength(records.length - 1);
    expect(log.state).toEqual(replay(records).state);
  });

  it.each(logs)('is not touched by other readings of %s', (_, log) => {
    const held = deepFreeze(replay(log.records));
    const before = JSON.stringify(held.state);
    for (const { press } of log.records.slice(1, 30)) stateBefore(held, press);
    momentsOf(held);
    replay(held.records);
    const last = log.records.at(-1);
    if (last !== undefined) apply(held.state, last);
    expect(JSON.stringify(held.state)).toBe(before);
  });

  it.each(logs)('has its runs in the order in which they began: %s', (_, { records }) => {
    const stepByStep = records.reduce<ReturnType<typeof extend> | null>(
      (log, record) => extend(log, [record]),
      null,
    );
    const keys = Object.keys(replay(records).state.runs);
    expect(Object.keys(stepByStep?.state.runs ?? {})).toEqual(keys);
  });
});
