/**
 * Real files, hurt in every way, through every door for what comes from outside: each is read, or
 * refused in lines that say where, what was expected and what came. Nothing is thrown.
 */
import { describe, expect, it } from 'vitest';
import { lehmer } from '../backup/filled-journal.ts';
import { isLong, runSeed, runSize } from '../tools/run-size.ts';
import { DOORS } from './doors.ts';

/** Of a hundred inputs, each door gets its share. */
const HUNDREDS = runSize({ long: 300, part: 1 });
const RUN_MS_MAX = 3_600_000;
const LINE_LENGTH_MAX = 4000;
const LINE = /^.+: expected .+, got .+$/;

/** What is wrong with one line that is told, or null. */
function wrongWith(line: string): string | null {
  if (/[\n\r]/.test(line)) return 'more than one line';
  if (/\[object |call stack|undefined|Cannot read|is not a function/.test(line)) return 'no words';
  // What the command line says of its own failure: something was thrown, and no place is named.
  if (line.includes(': expected to finish, got ')) return 'thrown';
  if (line.length > LINE_LENGTH_MAX) return `${line.length} characters`;
  return LINE.test(line) ? null : 'no place, expected and got';
}

describe('a hurt file', () => {
  let tried = 0;

  it.each(DOORS)(
    'is read or refused in words at the door of $name',
    async (door) => {
      const seed = runSeed();
      const next = lehmer(seed * 7919 + DOORS.indexOf(door) + 1);
      let slowestMs = 0;
      let refused = 0;
      const count = door.share * HUNDREDS;
      for (let n = 0; n < count; n += 1) {
        const text = await door.hurt(next);
        const beganMs = performance.now();
        const at = `seed ${seed}, input ${n}: ${text.length} characters`;
        let told: readonly string[] | null;
        try {
          told = await door.open(text);
        } catch (thrown) {
          throw new Error(`${at}: threw ${String(thrown)}\n${text.slice(0, 2000)}`, {
            cause: thrown,
          });
        }
        slowestMs = Math.max(slowestMs, performance.now() - beganMs);
        if (told !== null && told.length > 0) refused += 1;
        for (const line of told ?? []) {
          const wrong = wrongWith(line);
          if (wrong !== null) expect.fail(`${at}: ${wrong}\n${line.slice(0, 2000)}`);
        }
      }
      tried += count;
      // Hurt that nobody notices anywhere would prove nothing.
      if (door.name !== 'the private file' && door.name !== 'the lead’s log') {
        expect(refused).toBeGreaterThan(count / 10);
      }
      if (isLong) {
        console.log(
          `${door.name}: ${count} inputs, slowest ${Math.round(slowestMs)} ms, ${tried} so far`,
        );
      }
    },
    RUN_MS_MAX,
  );
});
