/** The signature of a backup: made by the tablet, checked at a restore. Ed25519 (RFC 8032) by Node's Web Crypto. */
import { webcrypto } from 'node:crypto';
import { beforeAll, expect, it } from 'vitest';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { sealLines } from '../../src/runtime/backup/backup-cipher.ts';
import { backupLines } from '../../src/runtime/backup/backup-lines.ts';
import { checkLines } from '../../src/runtime/backup/backup-merge.ts';
import { sealOf, signsWith } from '../../src/runtime/backup/backup-seal.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import { makeTabletKeys, type TabletKeys } from '../../src/storage/signatures.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

const crypto = webcrypto as unknown as CryptoLike;
const passphrase = 'twelve letters';

async function writing() {
  const journal = createMemoryJournal(createMemoryDevice());
  await journal.open();
  const begun = await journal.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  return { journal, epoch: begun.value.epoch };
}

async function* plainLines(lines: AsyncIterable<string>): AsyncGenerator<string> {
  for await (const line of lines) yield line.trimEnd();
}

let keys: TabletKeys;

beforeAll(async () => {
  const made = await makeTabletKeys(crypto);
  if (made === null) throw new Error('this Node has no Ed25519');
  keys = made;
});

it.each(['signed', 'not signed'])(
  'a restore says whether a file is %s, and takes it in',
  async (how) => {
    const own = how === 'signed' ? keys : null;
    const made = await makeBackup({ ...(await writing()), crypto, passphrase, keys: own });
    if (!made.ok) throw new Error(made.error.code);
    const restored = await restoreBackup({
      ...(await writing()),
      ...{ crypto, passphrase, file: made.value.file },
    });
    const seal = own && { publicKey: own.publicKey, isSigned: true, isOwn: false };
    expect(restored).toMatchObject({ ok: true, value: { seal } });
  },
);

it('a signature that was made for other lines does not fit', async () => {
  const { journal } = await writing();
  const found = await checkLines(
    plainLines(backupLines(journal, undefined, signsWith(crypto, keys))),
  );
  const { end } = found;
  const ownKey = keys.publicKey;
  expect(await sealOf(crypto, { end, signed: end.signed, ownKey })).toMatchObject({ isOwn: true });
  const other = { ...end, sha256: '0'.repeat(64) };
  expect(await sealOf(crypto, { end: other, signed: end.signed, ownKey })).toBe(false);
});

it('a file whose signature does not fit is refused, and changes nothing', async () => {
  const { journal } = await writing();
  const signature = '00'.repeat(64);
  const lines = backupLines(journal, undefined, async () => ({
    publicKey: keys.publicKey,
    signature,
  }));
  const file = await sealLines(crypto, { passphrase, lines });
  expect(await restoreBackup({ ...(await writing()), crypto, passphrase, file })).toMatchObject({
    error: { code: 'backup-altered' },
  });
});
