/** How a lost line is found again, with connections that behave as those of browsers do at their worst. */
import { AuthorizationError, type NatsConnection } from '@nats-io/nats-core';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { newUserKey } from '../../src/sync/accounts.ts';
import { NatsLine } from '../../src/sync/nats-line.ts';
import type { StoreLine } from '../../src/sync/store-types.ts';

beforeEach(() => {
  vi.useFakeTimers();
  // No jitter: waits are as they are written.
  vi.spyOn(Math, 'random').mockReturnValue(0.5);
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

const never = <T>(): Promise<T> => new Promise<T>(() => undefined);

/** As much of a connection as a line uses. `flush` is what its server answers to. */
function connection(flush: () => Promise<void> = () => Promise.resolve()) {
  const close = vi.fn(() => never<void>());
  const parts = {
    close,
    flush,
    closed: () => never<void>(),
    status: async function* () {
      await never();
      yield { type: 'close' };
    },
  };
  return { close, connection: parts as unknown as NatsConnection };
}

function lineWith(connect: () => Promise<NatsConnection>) {
  const login = { jwt: 'jwt', seed: newUserKey().seed };
  const lines: StoreLine[] = [];
  const line = new NatsLine({ address: 'a', login, name: 'x', connect }, () => undefined);
  line.onLine((now) => lines.push(now));
  return { line, lines };
}

it('gives an attempt up that never settles, as where a policy forbids it', async () => {
  const connect = vi.fn(never<NatsConnection>);
  const { line, lines } = lineWith(connect);
  await vi.advanceTimersByTimeAsync(4400);
  expect(connect).toHaveBeenCalledTimes(1);
  await vi.advanceTimersByTimeAsync(400);
  expect(connect).toHaveBeenCalledTimes(2);
  expect(lines).toEqual(['connecting']);
  await line.close();
  await vi.advanceTimersByTimeAsync(60_000);
  expect(connect).toHaveBeenCalledTimes(2);
  expect(lines).toEqual(['connecting', 'closed']);
});

it('closes a connection that comes after its time', async () => {
  const late = connection();
  let settle: (connection: NatsConnection) => void = () => undefined;
  const connect = vi
    .fn(never<NatsConnection>)
    .mockImplementationOnce(() => new Promise((resolve) => (settle = resolve)));
  const { line, lines } = lineWith(connect);
  await vi.advanceTimersByTimeAsync(5000);
  settle(late.connection);
  await vi.advanceTimersByTimeAsync(0);
  expect(late.close).toHaveBeenCalledTimes(1);
  expect(lines).toEqual(['connecting']);
  await line.close();
});

it('leaves a connection behind that does not answer, and does not wait for its end', async () => {
  let answers = true;
  const first = connection(() => (answers ? Promise.resolve() : never()));
  const second = connection();
  const connect = vi
    .fn(never<NatsConnection>)
    .mockResolvedValueOnce(first.connection)
    .mockResolvedValueOnce(second.connection);
  const { line, lines } = lineWith(connect);
  await vi.advanceTimersByTimeAsync(10_000);
  expect(lines).toEqual(['connecting', 'open']);
  answers = false;
  await vi.advanceTimersByTimeAsync(5300);
  // Its close never comes to an end, and nobody waits for it.
  expect(first.close).toHaveBeenCalledTimes(1);
  expect(lines).toEqual(['connecting', 'open', 'connecting', 'open']);
  expect(line.connection).toBe(second.connection);
  await line.close();
});

it('tries every 3 s at first, and every 15 s once it was away for five minutes', async () => {
  const connect = vi.fn(() => Promise.reject<NatsConnection>(new Error('nobody there')));
  const { line } = lineWith(connect);
  await vi.advanceTimersByTimeAsync(280_000);
  connect.mockClear();
  await vi.advanceTimersByTimeAsync(15_000);
  expect(connect).toHaveBeenCalledTimes(5);
  await vi.advanceTimersByTimeAsync(15_000);
  connect.mockClear();
  await vi.advanceTimersByTimeAsync(60_000);
  expect(connect).toHaveBeenCalledTimes(4);
  await line.close();
});

it('says that it was refused, asks seldom, and comes in when it is let in', async () => {
  const connect = vi.fn(() =>
    Promise.reject<NatsConnection>(new AuthorizationError("'Authorization Violation'")),
  );
  const { line, lines } = lineWith(connect);
  await vi.advanceTimersByTimeAsync(29_000);
  expect(lines).toEqual(['connecting', 'refused']);
  expect(connect).toHaveBeenCalledTimes(1);
  // A server that is away says nothing of whether it would let it in.
  connect.mockRejectedValueOnce(new Error('nobody there'));
  await vi.advanceTimersByTimeAsync(1500);
  expect(lines).toEqual(['connecting', 'refused']);
  connect.mockResolvedValue(connection().connection);
  await vi.advanceTimersByTimeAsync(31_000);
  expect(lines).toEqual(['connecting', 'refused', 'open']);
  await line.close();
});
