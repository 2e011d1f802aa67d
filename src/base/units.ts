/**
 * Branded quantities. Instants and durations are whole milliseconds; mixing them up is a type
 * error. Arithmetic goes through the helpers below, so that no brand is lost by accident.
 */
declare const brand: unique symbol;
type Brand<T, Name extends string> = T & { readonly [brand]: Name };

/** A length of time in milliseconds. */
export type DurationMs = Brand<number, 'DurationMs'>;
/** A point on the time axis of one case, in milliseconds from its first event. */
export type CaseMs = Brand<number, 'CaseMs'>;
/** Milliseconds since 1970-01-01T00:00:00Z as the device's wall clock gives it; it can be moved. */
export type WallMs = Brand<number, 'WallMs'>;
/** Milliseconds on the device's monotonic clock; comparable only inside one browser run. */
export type MonoMs = Brand<number, 'MonoMs'>;

export const durationMs = (ms: number): DurationMs => ms as DurationMs;
export const caseMs = (ms: number): CaseMs => ms as CaseMs;
export const wallMs = (ms: number): WallMs => ms as WallMs;
export const monoMs = (ms: number): MonoMs => ms as MonoMs;

export const MS_PER_SECOND = 1000;
export const MS_PER_MINUTE = 60 * MS_PER_SECOND;
export const MS_PER_HOUR = 60 * MS_PER_MINUTE;
export const MS_PER_DAY = 24 * MS_PER_HOUR;
