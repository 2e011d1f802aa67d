/** What a tablet seals the others open, and nobody else; what was changed or moved is named. */
import { describe, expect, it } from 'vitest';
import { newCaseKey, openCaseKey, openKeyMessage } from '../../src/sync/case-keys.ts';
import { openMessage, sealEntries, sealFact } from '../../src/sync/seal.ts';
import { entriesOf, got, makeClinic, openerOf, platform, stored } from './clinic.ts';

const FACT = { kind: 'fact-stock', id: 'bottle-1', value: { said: { left: 3 }, note: 'é𝄞' } };

async function twoTablets() {
  const clinic = await makeClinic();
  const a = await clinic.tablet('deviceA');
  const b = await clinic.tablet('deviceB');
  return { clinic, a, b, statements: [a.paired, b.paired] };
}

describe('a tablet of the clinic', () => {
  it('opens a fact', async () => {
    const { a, b, statements } = await twoTablets();
    const message = stored(got(await sealFact(a.sealer, FACT)));
    expect(message.subject).toMatch(/^f\.siteA\.deviceA\.stock\.[0-9a-f]{16}$/);
    expect(got(await openMessage(openerOf(b, { statements }), message))).toEqual({
      device: 'deviceA',
      payload: { type: 'fact', ...FACT },
    });
  });

  it('opens entries of a case by its key', async () => {
    const { a, b, statements } = await twoTablets();
    const { caseKey, message } = await newCaseKey(a.sealer, 'case-1');
    const entries = entriesOf('case-1', 30);
    const told = stored(got(await sealEntries(a.sealer, { caseKey, entries: entries.slice(7) })));
    expect(told.subject).toMatch(/^j\.siteA\.deviceA\.case-1\.7\.[0-9a-f]{16}$/);
    const opener = openerOf(b, { statements });
    expect(await openMessage(opener, told)).toMatchObject({ ok: false, error: { code: 'no-key' } });
    const key = got(await openKeyMessage(opener, stored(message)));
    if (key.type !== 'case-key') throw new Error('no case key');
    const { secrets } = b.sealer.membership;
    const opened = got(await openCaseKey(platform, { wrapped: key.key, secrets }));
    const withKey = openerOf(b, { statements, caseKeys: [opened] });
    expect(got(await openMessage(withKey, told)).payload).toEqual({
      type: 'entries',
      caseId: 'case-1',
      entries: entries.slice(7),
    });
  });
});
