import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { type BackupHeader, parseHeader } from '../../src/runtime/backup/backup-format.ts';
import { parseBackupLine } from '../../src/runtime/backup/backup-lines.ts';

const tombstone = canonicalText({
  record: 'tombstone',
  body: {
    caseId: 'a',
    entries: 3,
    epoch: 0,
    head: '0'.repeat(64),
    stamp: { wallMs: 1, monoMs: 1, runId: 'r' },
    by: null,
    reason: 'Left \u202eright',
  },
});

describe('a line of a backup', () => {
  it('keeps what its texts hold, whatever nobody sees in them', () => {
    expect(parseBackupLine(tombstone)).toEqual({ ok: true, value: JSON.parse(tombstone) });
  });

  it('that says a key twice is refused with its place', () => {
    const twice = tombstone.replace('"caseId":"a"', '"caseId":"b","caseId":"a"');
    expect(JSON.parse(twice)).toEqual(JSON.parse(tombstone));
    expect(parseBackupLine(twice)).toEqual({
      ok: false,
      error:
        'line.body, line 1, column 33: expected each key once, got "caseId" again (first on line 1, column 20)',
    });
  });

  it('that is laid out in another way is not as this app writes it', () => {
    const laidOut = JSON.stringify(JSON.parse(tombstone), null, 1);
    expect(parseBackupLine(laidOut)).toEqual({ ok: false, error: 'as this app writes it' });
  });

  it.each([
    ['{', 'JSON'],
    ['[]', 'a known record'],
    ['{"record":"other"}', 'a known record'],
    ['{"body":{},"record":"entry"}', 'a known record'],
  ])('%s is refused', (text, error) => {
    expect(parseBackupLine(text)).toEqual({ ok: false, error });
  });
});

const header: BackupHeader = {
  format: 'lutewatch-backup',
  formatVersion: 1,
  compression: 'none',
  iterations: 600_000,
  chunkBytes: 1_048_576,
  salt: 'AAAA',
  noncePrefix: 'AAAA',
  check: 'AAAA',
  bodyBytes: 17,
};

describe('the first line of a backup', () => {
  it('is read as it was written', () => {
    expect(parseHeader(JSON.stringify(header))).toEqual({ ok: true, value: header });
  });

  it('that says a key twice is refused with its place', () => {
    const text = JSON.stringify(header).replace('"salt"', '"salt":"BBBB","salt"');
    expect(parseHeader(text)).toEqual({
      ok: false,
      error: {
        code: 'backup-altered',
        place: expect.stringMatching(/^backup, line 1, column \d+$/),
        expected: 'each key once',
        came: expect.stringMatching(/^"salt" again \(first on line 1, column \d+\)$/),
      },
    });
  });

  it.each([
    [{ iterations: 10_000_001 }],
    [{ iterations: 0 }],
    [{ chunkBytes: 1.5 }],
    [{ bodyBytes: -1 }],
    [{ salt: 'AAA' }],
    [{ check: '****' }],
    [{ compression: 'zip' }],
  ])('with %j is refused as altered', (change) => {
    expect(parseHeader(JSON.stringify({ ...header, ...change }))).toMatchObject({
      ok: false,
      error: { code: 'backup-altered' },
    });
  });
});
