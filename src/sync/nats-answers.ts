/** What the server of the store answers, read with care: another stream may have answered. */
import {
  type Msg,
  NoRespondersError,
  PermissionViolationError,
  TimeoutError,
} from '@nats-io/nats-core';
import * as v from 'valibot';
import { jsonOr } from '../base/json.ts';
import { err, ok, type Result } from '../base/result.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import type { StoredMessage, StoreProblem, StreamName } from './store-types.ts';
import { STREAMS } from './store-types.ts';
import { storeProblem } from './store-words.ts';

const count = v.pipe(v.number(), v.safeInteger(), v.minValue(0));
const putAnswer = v.object({
  stream: v.string(),
  seq: v.optional(count, 0),
  domain: v.optional(v.string(), ''),
  error: v.optional(
    v.object({ err_code: v.optional(count, 0), description: v.optional(v.string(), '') }),
  ),
});

/** A stream could not take it: full, or the subject is written already. Which of the two, only the words say. */
const STORE_FAILED = 10077;
const IS_WRITTEN = 'maximum messages per subject exceeded';
/** Limits of the server or of the account: 10023, 10028, 10047. */
const NO_ROOM: readonly number[] = [10023, 10028, 10047];
const TOO_LARGE = 10054;

/**
 * Reads the answer to a message that was sent to be kept. The server of one of several sites says in `domain`
 * which site's it is; one that stands alone says none, and so does every error: `fresh: false` is to be looked up.
 */
export function readPut(
  answer: Msg,
  at: { readonly stream: StreamName; readonly site: string },
): Result<{ readonly fresh: boolean }, StoreProblem> {
  const text = answer.string();
  const read = parsedOr(putAnswer, jsonOr(text)?.value);
  if (read === null || !['', at.site].includes(read.domain)) {
    return err(storeProblem('wrong-store', text));
  }
  const { stream, seq, error } = read;
  if (error === undefined) {
    const isOurs = stream === at.stream && seq > 0;
    return isOurs ? ok({ fresh: true }) : err(storeProblem('wrong-store', text));
  }
  if (error.err_code === STORE_FAILED && error.description === IS_WRITTEN) {
    return stream === at.stream ? ok({ fresh: false }) : err(storeProblem('wrong-store', text));
  }
  if (error.err_code === STORE_FAILED || NO_ROOM.includes(error.err_code)) {
    return err(storeProblem('store-full', text));
  }
  return err(storeProblem(error.err_code === TOO_LARGE ? 'too-large' : 'no-answer', text));
}

/** A message with its number, as it is read one by one or told of; null where the headers do not say so. */
export function storedOf(message: Msg): StoredMessage | null {
  const stream = STREAMS.find((each) => each === message.headers?.get('Nats-Stream'));
  const subject = message.headers?.get('Nats-Subject') ?? '';
  const seq = Number(message.headers?.get('Nats-Sequence'));
  if (stream === undefined || subject === '' || !Number.isSafeInteger(seq) || seq < 1) return null;
  const keptAt = message.headers?.get('Nats-Time-Stamp') ?? '';
  return { stream, seq, subject, data: new Uint8Array(message.data), keptAt };
}

const NOT_FOUND = 404;

/** Reads the answer to the question for one message; null: there is none. */
export function readGet(
  answer: Msg,
  stream: StreamName,
): Result<StoredMessage | null, StoreProblem> {
  const code = answer.headers?.code ?? 0;
  if (code === NOT_FOUND) return ok(null);
  if (code !== 0) return err(storeProblem('no-answer', answer.headers?.description ?? ''));
  const message = storedOf(answer);
  return message?.stream === stream
    ? ok(message)
    : err(storeProblem('wrong-store', message?.subject ?? answer.subject));
}

/** Why a question found no answer. */
export function askProblem(thrown: unknown): StoreProblem {
  const cause = thrown instanceof Error && thrown.cause instanceof Error ? thrown.cause : thrown;
  const text = cause instanceof Error ? cause.message : String(cause);
  if (cause instanceof PermissionViolationError) return storeProblem('refused', text);
  if (cause instanceof NoRespondersError) return storeProblem('not-connected', text);
  return storeProblem('no-answer', cause instanceof TimeoutError ? 'no answer in time' : text);
}
