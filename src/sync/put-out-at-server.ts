/** Puts a tablet out at the server: its account is signed anew without the tablet's user. */
import { type Account, decode } from '@nats-io/jwt';
import type { NatsConnection } from '@nats-io/nats-core';
import { jwtAuthenticator } from '@nats-io/nats-core';
import * as v from 'valibot';
import { fieldsOf, jsonOr } from '../base/json.ts';
import { err, ok, type Result } from '../base/result.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { publicOf, stewardLogin, tabletsAccountJwt } from './accounts.ts';
import { askProblem } from './nats-answers.ts';
import { type Connect, LINE_TIMES, withinMs } from './nats-line.ts';
import type { ServerSeeds } from './server-keys.ts';
import type { StoreProblem } from './store-types.ts';
import { storeProblem } from './store-words.ts';

export interface PutOutAtServer {
  /** As for a store: of the page's WebSocket, or `127.0.0.1:4222` in Node. */
  readonly address: string;
  readonly connect: Connect;
  readonly site: string;
  /** Users that stay out: the one put out now, and every one before. */
  readonly users: readonly string[];
}

const ANSWER_MS = 5000;
const updated = v.object({ data: v.object({ code: v.literal(200) }) });

/** Who is out already, as the server has it. Only what the operator signed counts. */
async function outAlready(
  connection: NatsConnection,
  seeds: ServerSeeds,
): Promise<readonly string[]> {
  const subject = `$SYS.REQ.ACCOUNT.${publicOf(seeds.tabletsSeed)}.CLAIMS.LOOKUP`;
  const answer = await connection.request(subject, '', { timeout: ANSWER_MS });
  try {
    const { iss, nats } = decode<Account>(answer.string());
    return iss === publicOf(seeds.operatorSeed) ? Object.keys(nats.revocations ?? {}) : [];
  } catch {
    return [];
  }
}

/**
 * Throws tablets out and does not let them in again. Needs the operator's key, and with it the lead's passphrase.
 * What they wrote stays.
 */
export async function putOutAtServer(
  seeds: ServerSeeds,
  { address, connect, site, users }: PutOutAtServer,
): Promise<Result<null, StoreProblem>> {
  const login = await stewardLogin(seeds);
  let connection: NatsConnection | null = null;
  try {
    connection = await withinMs(
      connect({
        servers: address,
        authenticator: jwtAuthenticator(login.jwt, new TextEncoder().encode(login.seed)),
        inboxPrefix: '_INBOX.steward',
        name: 'steward',
        reconnect: false,
        timeout: LINE_TIMES.connect,
      }),
      LINE_TIMES.connect + 500,
    );
    const putOut = [...new Set([...(await outAlready(connection, seeds)), ...users])].sort();
    const jwt = await tabletsAccountJwt(seeds, { site, putOut });
    const answer = await connection.request('$SYS.REQ.CLAIMS.UPDATE', jwt, { timeout: ANSWER_MS });
    const text = answer.string();
    const isUpdated = parsedOr(updated, fieldsOf(jsonOr(text)?.value)) !== null;
    return isUpdated ? ok(null) : err(storeProblem('refused', text));
  } catch (thrown) {
    return err(
      connection === null ? storeProblem('not-connected', String(thrown)) : askProblem(thrown),
    );
  } finally {
    connection?.close().catch(() => undefined);
  }
}
