import { expect, test } from 'vitest';
import { oneByOne } from '../../src/base/one-by-one.ts';

test('what is asked for runs in the order of asking, none beside another, whatever fails', async () => {
  const inLine = oneByOne();
  const seen: string[] = [];
  const run = (name: string, turns: number) => async () => {
    seen.push(`${name} begins`);
    for (let turn = 0; turn < turns; turn += 1) await Promise.resolve();
    seen.push(`${name} ends`);
    if (name === 'b') throw new Error(name);
    return name;
  };
  const [a, b, c] = [inLine(run('a', 9)), inLine(run('b', 3)), inLine(run('c', 0))];
  await expect(b).rejects.toThrow('b');
  expect([await a, await c]).toEqual(['a', 'c']);
  expect(seen).toEqual(['a begins', 'a ends', 'b begins', 'b ends', 'c begins', 'c ends']);
});
