import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it } from 'vitest';
import { err, ok } from '../../src/base/result.ts';
import { Outbox } from '../../src/sync/outbox.ts';
import { openSharingDatabase, type SharingDatabase } from '../../src/sync/sharing-database.ts';
import type { Bytes, ClinicStore, StoreProblemCode } from '../../src/sync/store-types.ts';
import { storeProblem } from '../../src/sync/store-words.ts';

let names = 0;
let name = '';
let database: SharingDatabase;

beforeEach(() => {
  names += 1;
  name = `outbox-${names}`;
  database = openSharingDatabase(name);
});

const bytes = (n: number): Bytes => Uint8Array.of(n);
const message = (n: number) => ({
  stream: 'F' as const,
  subject: `f.s.d.material.${n}`,
  data: bytes(n),
});

async function opened(of = database): Promise<Outbox> {
  const outbox = new Outbox(of, { onAdded: () => undefined, onChange: () => undefined });
  await outbox.open();
  return outbox;
}

type Put = ClinicStore['put'];
const going = { isStopped: () => false };

/** A store that writes down what it was asked, and answers as it is told. */
function store(answer: (subject: string) => StoreProblemCode | 'fresh' | 'known') {
  const asked: { readonly subject: string; readonly data: Bytes }[] = [];
  const put: Put = async ({ subject, data }) => {
    asked.push({ subject, data });
    const said = answer(subject);
    if (said === 'fresh' || said === 'known') return ok({ fresh: said === 'fresh' });
    return err(storeProblem(said, subject));
  };
  return { put, asked };
}

describe('what is owed', () => {
  it('is sent in order, as it was kept, over a restart too', async () => {
    const outbox = await opened();
    await outbox.add([message(1), message(2)]);
    await outbox.add([message(3)]);
    const again = openSharingDatabase(name);
    const next = await opened(again);
    expect(next.owed).toBe(3);
    const to = store(() => 'fresh');
    expect(await next.send(to, going)).toEqual({ done: true });
    expect(to.asked.map(({ subject }) => subject)).toEqual(
      [1, 2, 3].map((n) => message(n).subject),
    );
    expect(to.asked.map(({ data }) => data[0])).toEqual([1, 2, 3]);
    expect(next.owed).toBe(0);
  });

  it('is tried again with the same bytes where no answer came', async () => {
    const outbox = await opened();
    await outbox.add([message(1)]);
    const silent = store(() => 'no-answer');
    expect(await outbox.send(silent, going)).toEqual({ done: false, code: 'no-answer' });
    expect(outbox.owed).toBe(1);
    const knows = store(() => 'known');
    await outbox.send(knows, going);
    expect(knows.asked).toEqual(silent.asked);
    expect(outbox.owed).toBe(0);
  });

  it('keeps what a full store refuses, and forgets what it took in the same turn', async () => {
    const outbox = await opened();
    await outbox.add([message(1), message(2), message(3)]);
    const full = store((subject) => (subject === message(2).subject ? 'store-full' : 'fresh'));
    expect(await outbox.send(full, going)).toEqual({ done: false, code: 'store-full' });
    expect(outbox.owed).toBe(1);
    expect((await database.all('outbox')).map(({ subject }) => subject)).toEqual([
      message(2).subject,
    ]);
  });

  it('sets aside what is too large: told as owed, and not tried again', async () => {
    const outbox = await opened();
    await outbox.add([message(1), message(2)]);
    const to = store((subject) => (subject === message(1).subject ? 'too-large' : 'fresh'));
    expect(await outbox.send(to, going)).toEqual({ done: true });
    expect([outbox.owed, outbox.stuck, outbox.waiting]).toEqual([1, 1, 0]);
    await outbox.send(to, going);
    expect(to.asked).toHaveLength(2);
    expect((await opened(openSharingDatabase(name))).stuck).toBe(1);
  });

  it('is not forgotten on a word: what was taken and is not found goes once more', async () => {
    const outbox = await opened();
    await outbox.add([message(1), message(2)]);
    await outbox.send(
      store(() => 'fresh'),
      going,
    );
    await database.change(outbox.saw(message(1).subject));
    await outbox.sendAgain(outbox.sent);
    expect(outbox.owed).toBe(1);
    const to = store(() => 'fresh');
    await outbox.send(to, going);
    expect(to.asked).toEqual([{ subject: message(2).subject, data: bytes(2) }]);
  });

  it('is over where it is read in the store before its answer comes, or after the answer was lost', async () => {
    const outbox = await opened();
    await outbox.add([message(1)]);
    await outbox.send(
      store(() => 'no-answer'),
      going,
    );
    await database.change(outbox.saw(message(1).subject));
    expect(outbox.owed).toBe(0);
    expect(await database.count('outbox')).toBe(0);
    expect(outbox.sent.size).toBe(0);
  });

  it('notes what belongs to it in the same turn, or neither', async () => {
    const outbox = await opened();
    await outbox.add([message(1)], [{ room: 'offered', put: { id: 'f:1' } }]);
    expect(await database.keys('offered')).toEqual(['f:1']);
  });
});
