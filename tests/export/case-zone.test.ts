/** The zone of the clinic and the tablet in the opening entry of a case. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { monoMs, wallMs } from '../../src/base/units.ts';
import { decideOpening } from '../../src/engine/decide.ts';
import { type CaseLog, extend, recordPress } from '../../src/engine/log.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { entriesOf } from './journals.ts';

type Place = { readonly zone?: string; readonly tablet?: string };

function opened(place: Place): CaseLog {
  const { spec, protocol, plan } = settingOf(SMALL_WHOLE, ['11']);
  const mode = 'rehearsal';
  const about = { mode, spec, protocol, plan, protocolHash: 'hash-1', approval: null } as const;
  const decided = decideOpening({ ...about, ...place });
  if (!decided.ok) throw new Error(decided.error.code);
  const stamp = { wallMs: wallMs(0), monoMs: monoMs(0), runId: 'run-1' };
  return extend(null, recordPress({ log: null, events: decided.value, stamp, by: null }));
}

const sharedJson = (file: string): object =>
  JSON.parse(readFileSync(new URL(`../../shared/${file}`, import.meta.url), 'utf8'));

const ajv = new Ajv2020({ strict: false, validateFormats: false });
ajv.addSchema([sharedJson('case.schema.json'), sharedJson('protocol.schema.json')]);
const schema = ajv.compile(sharedJson('journal.schema.json'));

const textOf = (place: Place): string =>
  journalJson({ caseId: 'case-1', entries: entriesOf(opened(place).records), apart: [] });

const read = (text: string) => {
  const parsed = parseJournal(text, { verify: verifyChain });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
};

describe('where a case was opened', () => {
  const HERE = { zone: 'Australia/Lord_Howe', tablet: '7c1d6a52-2d0f-4f0a-9a55-2f6f6a3f9f10' };

  it('stands in its opening entry and comes back with the journal', () => {
    const { entries, problems } = read(textOf(HERE));
    expect(problems).toEqual([]);
    expect(entries[0]?.event).toMatchObject({ type: 'case-opened', ...HERE });
    expect(schema(JSON.parse(textOf(HERE)))).toBe(true);
  });

  it('is missing in older cases, which are read as ever', () => {
    const { entries, problems } = read(textOf({}));
    expect(problems).toEqual([]);
    expect(entries[0]?.event).not.toHaveProperty('zone');
    expect(entries[0]?.event).not.toHaveProperty('tablet');
    expect(schema(JSON.parse(textOf({})))).toBe(true);
  });

  it('may be a zone that a later edition of the rules brings', () => {
    expect(read(textOf({ zone: 'Europe/Newtown-on-Sea' })).problems).toEqual([]);
  });

  it('is no zone when it is not the name of one', () => {
    for (const zone of ['', '+01:00', 'Europe/Lisbon\nX-EVIL:1', 'a'.repeat(65)]) {
      expect(read(textOf({ zone })).verification.firstBad).toEqual({ index: 0, reason: 'event' });
      expect(schema(JSON.parse(textOf({ zone })))).toBe(false);
    }
  });
});
