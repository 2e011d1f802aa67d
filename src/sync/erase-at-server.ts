/**
 * Erases what the store holds of one case: its keys first, then its entries, message by message, so that the
 * server writes over them on its disk. A purge of the whole would leave the bytes in the files.
 *
 * Copies of the disk that were made before, and what a tablet keeps that was never heard of again, stay.
 */
import { jwtAuthenticator, type NatsConnection } from '@nats-io/nats-core';
import * as v from 'valibot';
import { jsonOr } from '../base/json.ts';
import { err, ok, type Result } from '../base/result.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { keeperLogin } from './accounts.ts';
import { askProblem, readGet } from './nats-answers.ts';
import { type Connect, LINE_TIMES, withinMs } from './nats-line.ts';
import type { ServerSeeds } from './server-keys.ts';
import type { StoreProblem, StreamName } from './store-types.ts';
import { storeProblem } from './store-words.ts';

export interface EraseAtServer {
  /** As for a store. */
  readonly address: string;
  readonly connect: Connect;
  readonly site: string;
  readonly caseId: string;
}

const ANSWER_MS = 5000;
/** No such message: somebody erased it meanwhile. */
const IS_GONE = 10057;

const deleted = v.union([
  v.object({ success: v.literal(true) }),
  v.object({ error: v.object({ err_code: v.literal(IS_GONE) }) }),
]);

async function eraseBranch(
  connection: NatsConnection,
  o: { readonly stream: StreamName; readonly branch: string },
): Promise<Result<number, StoreProblem>> {
  const { stream, branch } = o;
  for (let [seq, count] = [1, 0]; ; count += 1) {
    const question = JSON.stringify({ seq, next_by_subj: branch });
    const asked = await connection.request(`$JS.API.DIRECT.GET.${stream}`, question, {
      timeout: ANSWER_MS,
    });
    const next = readGet(asked, stream);
    if (!next.ok) return next;
    if (next.value === null) return ok(count);
    seq = next.value.seq;
    const answer = await connection.request(
      `$JS.API.STREAM.MSG.DELETE.${stream}`,
      JSON.stringify({ seq, no_erase: false }),
      { timeout: ANSWER_MS },
    );
    const text = answer.string();
    if (parsedOr(deleted, jsonOr(text)?.value) === null) return err(storeProblem('refused', text));
    seq += 1;
  }
}

/**
 * Erases a case in the store. Needs the store's key, and with it the lead's passphrase. Doing it again is no
 * fault. What is told is how many messages were erased.
 */
export async function eraseAtServer(
  seeds: ServerSeeds,
  { address, connect, site, caseId }: EraseAtServer,
): Promise<Result<{ readonly keys: number; readonly entries: number }, StoreProblem>> {
  const login = await keeperLogin(seeds);
  let connection: NatsConnection | null = null;
  try {
    const opening = connect({
      servers: address,
      authenticator: jwtAuthenticator(login.jwt, new TextEncoder().encode(login.seed)),
      inboxPrefix: '_INBOX.keeper',
      name: 'keeper',
      reconnect: false,
      timeout: LINE_TIMES.connect,
    });
    connection = await withinMs(opening, LINE_TIMES.connect + 500);
    const keys = await eraseBranch(connection, {
      stream: 'K',
      branch: `k.${site}.*.${caseId}.>`,
    });
    if (!keys.ok) return keys;
    const entries = await eraseBranch(connection, {
      stream: 'J',
      branch: `j.${site}.*.${caseId}.>`,
    });
    return entries.ok ? ok({ keys: keys.value, entries: entries.value }) : entries;
  } catch (thrown) {
    return err(
      connection === null ? storeProblem('not-connected', String(thrown)) : askProblem(thrown),
    );
  } finally {
    connection?.close().catch(() => undefined);
  }
}
