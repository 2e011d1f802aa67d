/** Heads of a running case: when they go, how many, and never before the store has what they name. */
import { webcrypto } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { anchorOf } from '../../src/runtime/anchors/head-facts.ts';
import { HEAD_EVERY_MS, RunningHeads } from '../../src/runtime/anchors/running-heads.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { Fact } from '../../src/runtime/facts/fact.ts';
import type { SigningCrypto } from '../../src/storage/signatures.ts';
import { entriesOf, finished } from '../export/journals.ts';
import { fakeTime } from '../runtime/fake-time.ts';

/** It signs at once: signing takes real time, and here all time is the test's. */
const crypto = {
  subtle: { ...webcrypto.subtle, sign: async () => new ArrayBuffer(64) },
} as unknown as SigningCrypto;
const caseId = 'case-1';
const patient = finished().log.records.map((r) =>
  r.event.type === 'case-opened' ? { ...r, event: { ...r.event, mode: 'patient' as const } } : r,
);
const entries = entriesOf(patient, caseId);
const signedAt = entries.findIndex(({ event }) => event.type === 'case-closed');

function running(mode: 'patient' | 'rehearsal' = 'patient') {
  const time = fakeTime();
  const sent: Fact[] = [];
  const left: Fact[] = [];
  let isShared = true;
  const state = { opened: { mode }, closed: null };
  const heads = new RunningHeads({
    timers: time.timers,
    crypto,
    keys: { publicKey: 'ab'.repeat(32), privateKey: {} as CryptoKey },
    tablet: () => 'tablet-a',
    // The two that are asked for of a running case.
    running: () => ({ caseId, isViewOnly: false, log: { state } }) as unknown as RunningCase,
    nowWallMs: () => time.clock.stamp().wallMs,
    nowMs: () => time.clock.stamp().monoMs,
    isShared: () => isShared,
    send: async (fact) => void sent.push(fact),
    onLeft: (fact) => void left.push(fact),
  });
  const pass = async (ms: number) => {
    for (let done = 0; done < ms; done += 1000) {
      time.pass(1000);
      await new Promise(setImmediate);
    }
  };
  return {
    ...{ heads, sent, left, pass },
    press: (n: number) => heads.hear({ type: 'entries', caseId, entries: entries.slice(n, n + 1) }),
    share: (value: boolean) => {
      isShared = value;
    },
    lengths: () => sent.map((fact) => anchorOf(fact)?.entries),
  };
}

describe('heads of a running case', () => {
  test('go at most every 30 s, and name what was stored last', async () => {
    const { press, pass, lengths, left } = running();
    press(0);
    await pass(1000);
    expect(lengths()).toEqual([1]);
    for (let n = 1; n <= 10; n += 1) {
      press(n);
      await pass(2000);
    }
    expect(lengths()).toEqual([1]);
    await pass(HEAD_EVERY_MS);
    expect(lengths()).toEqual([1, 11]);
    expect(left.map((fact) => anchorOf(fact)?.entries)).toEqual([1, 11]);
    // Without a press nothing more is said: two hours of it.
    await pass(7_200_000);
    expect(lengths()).toEqual([1, 11]);
  });

  test('go at once when the case is signed', async () => {
    const { press, pass, lengths } = running();
    press(0);
    await pass(1000);
    press(signedAt);
    await pass(1000);
    expect(lengths()).toEqual([1, signedAt + 1]);
  });

  test('wait for the store to have everything they name; only the last one then goes', async () => {
    const { press, pass, lengths, left, share } = running();
    share(false);
    for (let n = 0; n < 60; n += 1) {
      press(n);
      await pass(30_000);
    }
    expect(lengths()).toEqual([]);
    expect(left).toEqual([]);
    share(true);
    await pass(10_000);
    expect(lengths()).toEqual([60]);
    expect(left).toHaveLength(1);
  });

  test('are of patients alone', async () => {
    const { press, pass, sent } = running('rehearsal');
    press(0);
    await pass(60_000);
    expect(sent).toEqual([]);
  });

  test('each follows on the one before of its case, and is no fact that is kept', async () => {
    const { press, pass, sent } = running();
    press(0);
    await pass(30_000);
    press(1);
    await pass(30_000);
    expect(sent[1]?.after).toEqual([sent[0]?.id]);
    expect(sent[0]).toMatchObject({ said: { running: true } });
  });
});
