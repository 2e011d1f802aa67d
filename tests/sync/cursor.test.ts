import { describe, expect, it } from 'vitest';
import { readOn } from '../../src/sync/catch-up.ts';
import { cursorAt, judgeCursor, movedOn } from '../../src/sync/cursor.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import type { KeptCursor } from '../../src/sync/sharing-database.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';

const never = async (_: string): Promise<boolean> => false;

function filled(count: number, from = 1): MemoryHub {
  const hub = new MemoryHub();
  for (let n = from; n < from + count; n += 1) put(hub, n);
  return hub;
}

const put = (hub: MemoryHub, n: number): number =>
  hub.plant({ stream: 'J', subject: `j.s.d.case-${n}.0.${n}`, data: new Uint8Array([n % 256]) });

function readTo(hub: MemoryHub, seq: number): KeptCursor {
  let cursor: KeptCursor | undefined;
  for (const message of hub.messages('J')) {
    if (message.seq <= seq) cursor = movedOn(cursor, message);
  }
  if (cursor === undefined) throw new Error('a cursor');
  return cursor;
}

async function verdict(hub: MemoryHub, cursor: KeptCursor, isErased = never) {
  const judged = await judgeCursor(hub.open('a'), cursor, isErased);
  return judged.ok ? judged.value : judged.error.code;
}

describe('a cursor', () => {
  it('knows the store that it was read from, also when that went on', async () => {
    const hub = filled(10);
    const cursor = readTo(hub, 10);
    expect(cursorAt(cursor)).toBe(10);
    expect(await verdict(hub, cursor)).toBe('same');
    put(hub, 11);
    expect(await verdict(hub, cursor)).toBe('same');
  });

  it('tells a store that was put back, also where the same message stands at the place again', async () => {
    const hub = filled(5);
    const before = hub.disk();
    put(hub, 6);
    put(hub, 7);
    const cursor = readTo(hub, 7);
    hub.rollBack(before);
    // Offered again in another order, with something new among it: what was read last is where it was.
    put(hub, 30);
    put(hub, 7);
    put(hub, 6);
    expect(await verdict(hub, cursor)).toBe('went-back');
    const after = cursor.marks[0] ?? null;
    const read = await readOn(hub.open('a'), { stream: 'J', after, most: 8 });
    expect(read.ok && read.value.isOther).toBe(true);
  });

  it('tells a store that was put back: shorter, or with another message at the place', async () => {
    const hub = filled(5);
    const before = hub.disk();
    for (let n = 6; n <= 10; n += 1) put(hub, n);
    const cursor = readTo(hub, 10);
    hub.rollBack(before);
    expect(await verdict(hub, cursor)).toBe('went-back');
    for (let n = 20; n < 30; n += 1) put(hub, n);
    expect(await verdict(hub, cursor)).toBe('went-back');
  });

  it('passes over what was erased, in the midst and at the end where it was deleted on purpose', async () => {
    const hub = filled(10);
    const cursor = readTo(hub, 9);
    hub.erase('J', 9);
    expect(await verdict(hub, cursor)).toBe('same');
    hub.erase('J', 10);
    expect(await verdict(hub, cursor)).toBe('went-back');
    const erased = async (subject: string): Promise<boolean> => subject.includes('case-9');
    expect(await verdict(hub, cursor, erased)).toBe('same');
  });

  it('keeps few marks, however far it comes', () => {
    const cursor = readTo(filled(1000), 1000);
    expect(cursor.marks.length).toBeLessThanOrEqual(5);
    expect(cursor.marks[0]?.seq).toBe(1000);
  });
});

describe('reading on', () => {
  it('gives every message once, in order, over gaps of erased ones', async () => {
    const hub = filled(300);
    for (const gone of [1, 2, 77, 78, 79, 200]) hub.erase('J', gone);
    const store = hub.open('a');
    const seen: number[] = [];
    for (let after: KeptCursor['marks'][number] | null = null; ; ) {
      const got = await readOn(store, { stream: 'J', after, most: 64 });
      if (!got.ok || got.value.messages.length === 0) break;
      seen.push(...got.value.messages.map(({ seq }) => seq));
      after = got.value.messages.at(-1) ?? null;
    }
    expect(seen).toEqual(hub.messages('J').map(({ seq }) => seq));
    expect(seen).toHaveLength(294);
  });

  it('leaves nothing out where a later question is answered after an earlier one, and more came between', async () => {
    const hub = filled(2);
    const store = hub.open('a');
    let arrives = (): void => undefined;
    const more = new Promise<void>((resolve) => {
      arrives = resolve;
    });
    // Told that the stream ends before 3; what is asked for 4 arrives when both are there.
    const late: Pick<ClinicStore, 'get'> = {
      get: async (at) => {
        if (at.seq > 3) await more;
        const got = await store.get(at);
        if (at.seq !== 3) return got;
        put(hub, 3);
        put(hub, 4);
        arrives();
        return got;
      },
    };
    const first = await readOn(late, { stream: 'J', after: null, most: 4 });
    const one = first.ok ? first.value.messages : [];
    const second = await readOn(store, { stream: 'J', after: one.at(-1) ?? null, most: 4 });
    const two = second.ok ? second.value.messages : [];
    expect([...one, ...two].map(({ seq }) => seq)).toEqual([1, 2, 3, 4]);
  });

  it('stops where another message stands at the last place that was read', async () => {
    const hub = filled(5);
    const after = hub.messages('J').at(-1) ?? null;
    const other = filled(6, 100);
    const got = await readOn(other.open('a'), { stream: 'J', after, most: 64 });
    expect(got.ok && got.value).toEqual({ messages: [], isOther: true });
  });
});
