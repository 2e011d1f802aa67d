/** Global set-up of the suites that need the application as it ships: one build for all of them. */
import { buildForRun } from './built-app.ts';

export default async function setup(): Promise<() => Promise<void>> {
  return buildForRun();
}
