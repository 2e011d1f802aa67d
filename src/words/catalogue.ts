/**
 * Everything that a language has to say, by topic. English is the pattern: another language exports
 * an object that `satisfies Catalogue`, and the compiler names what it lacks.
 */
import type { app } from './en/app.ts';
import type { today } from './en/today.ts';

export interface Catalogue {
  readonly app: typeof app;
  readonly today: typeof today;
}
