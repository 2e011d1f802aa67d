import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { encodeRecord, type FileContent, readLines } from '../../src/storage/file-lines.ts';
import {
  CHAIN_START,
  chainEntries,
  NO_ENTRY_HASH,
  pointAfter,
  verifyChain,
} from '../../src/storage/hash-chain.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';
import { wholeCase } from './sample-case.ts';

const encoder = new TextEncoder();

const entries = chainEntries(wholeCase('c1', 200), {
  caseId: 'c1',
  epoch: 1,
  prev: NO_ENTRY_HASH,
});
const lines = entries.map((body) => encoder.encode(encodeRecord({ record: 'entry', body })));

function joined(parts: readonly Uint8Array[]): Uint8Array {
  return Uint8Array.from(Buffer.concat(parts));
}

const entriesIn = (content: FileContent): readonly JournalEntry[] =>
  content.records.flatMap((record) => (record.record === 'entry' ? [record.body] : []));

/**
 * Reads line `k` as it was damaged, with what follows it where the damage can run on. Lines before
 * it are untouched bytes; the whole-file test below reads them with the same code.
 */
function isFound(k: number, damaged: Uint8Array): boolean {
  const content = readLines(damaged);
  const before = k === 0 ? CHAIN_START : pointAfter(present(entries[k - 1], 'the entry before'));
  const found = entriesIn(content);
  const isUntouched = found[0]?.seq === k && verifyChain(found, before).goodCount > 0;
  return content.unreadable.length > 0 && !isUntouched;
}

describe('a stored journal of 200 entries', () => {
  it('reads back whole when nothing is damaged', () => {
    const content = readLines(joined(lines));
    expect(content.unreadable).toEqual([]);
    expect(entriesIn(content)).toEqual(entries);
  });

  it('shows every single flipped bit', () => {
    let flips = 0;
    const missed: string[] = [];
    lines.forEach((line, k) => {
      const damaged = Uint8Array.from(line);
      const next = lines[k + 1] ?? new Uint8Array();
      for (let bit = 0; bit < line.length * 8; bit += 1) {
        const byte = bit >> 3;
        damaged[byte] = (line[byte] ?? 0) ^ (1 << (bit & 7));
        // Only a lost line feed joins this line with the next one.
        const touched = byte === line.length - 1 ? joined([damaged, next]) : damaged;
        if (!isFound(k, touched)) missed.push(`line ${k} bit ${bit}`);
        damaged[byte] = line[byte] ?? 0;
        flips += 1;
      }
    });
    expect(missed).toEqual([]);
    expect(flips).toBe(joined(lines).length * 8);
    expect(flips).toBeGreaterThan(500_000);
  }, 120_000);

  it('keeps everything before a flipped bit readable, in the whole file', () => {
    const whole = joined(lines);
    const starts = lines.map((_, k) => lines.slice(0, k).reduce((sum, l) => sum + l.length, 0));
    fc.assert(
      fc.property(fc.nat(whole.length * 8 - 1), (bit) => {
        const damaged = Uint8Array.from(whole);
        damaged[bit >> 3] = (whole[bit >> 3] ?? 0) ^ (1 << (bit & 7));
        const hit = starts.findLastIndex((start) => start <= bit >> 3);
        const content = readLines(damaged);
        const verdict = verifyChain(entriesIn(content));
        expect(verdict.goodCount).toBe(hit);
        expect(entriesIn(content).slice(0, hit)).toEqual(entries.slice(0, hit));
        expect(content.unreadable[0]?.line).toBe(hit);
      }),
      { numRuns: 60 },
    );
  });

  it('loses only the line that was torn, at every length a crash can leave', () => {
    const last = present(lines[199], 'the last line');
    const before = joined(lines.slice(190, 199));
    for (let kept = 0; kept < last.length; kept += 1) {
      const content = readLines(joined([before, last.subarray(0, kept)]));
      expect(entriesIn(content)).toHaveLength(9);
      expect(content.unreadable.map(({ reason }) => reason)).toEqual(kept === 0 ? [] : ['torn']);
    }
  });

  it('reads on after a torn line that was closed', () => {
    const torn = present(lines[1], 'a line').subarray(0, 40);
    const feed = encoder.encode('\n');
    const content = readLines(
      joined([present(lines[0], 'a line'), torn, feed, present(lines[1], 'it')]),
    );
    expect(entriesIn(content)).toEqual(entries.slice(0, 2));
    expect(content.unreadable).toMatchObject([{ line: 1, reason: 'not-json' }]);
  });

  it('accepts a line only as it would write it itself, not as JSON would also read it', () => {
    const line = new TextDecoder().decode(present(lines[1], 'a line'));
    const other = [
      line.replace('"press":1', '"press": 1'),
      line.replace('"press":1', '"press":1.0'),
      line.replace('"record":"entry"', '"record":"entr\\u0079"'),
      line.replace('{"body"', '{"sum":"0","body"'),
      `\ufeff${line}`,
      line.replace('\n', '\r\n'),
    ];
    for (const text of other) {
      expect(text).not.toBe(line);
      const content = readLines(encoder.encode(text));
      expect(content.records, text).toEqual([]);
      expect(content.unreadable).toHaveLength(1);
    }
  });

  it('survives any noise', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (noise) => {
        const content = readLines(joined([noise, encoder.encode('\n'), present(lines[0], 'it')]));
        expect(entriesIn(content)).toEqual(entries.slice(0, 1));
      }),
    );
    const deep = encoder.encode(`${'{"record":'.repeat(20_000)}\n`);
    expect(readLines(deep).unreadable).toHaveLength(1);
    const nested = `{"record":"document","body":{"kind":"k","id":"i","version":1,"epoch":1,"value":${'['.repeat(5000)}${']'.repeat(5000)}},"sum":""}\n`;
    expect(readLines(encoder.encode(nested)).records).toEqual([]);
  });
});
