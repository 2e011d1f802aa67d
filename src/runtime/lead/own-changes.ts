/**
 * How long people took to bring the light from one tooth to the next, from light that was pressed place by
 * place: from the end of one exposure to the next light-on of another tooth of the same step. Left out:
 * what a gap made uncertain, a tooth that had to rest first, and whatever was done in between. A pass says
 * nothing about it: there the tones set the time. In ms.
 */
import { type Layout, layoutOf, restMs, shareTooth } from '../../engine/layout.ts';
import { type CaseLog, momentsOf } from '../../engine/log.ts';
import type { CaseInstant } from '../../engine/types.ts';

/** A longer pause is no change-over: somebody waited, or did something else. A design choice, no source. */
const CHANGE_MS_MAX = 60_000;

export interface ChangeOver {
  readonly step: string;
  readonly person: string;
  readonly tookMs: number;
}

interface Lit {
  readonly step: string;
  readonly subject: string;
  readonly setMs: number;
  readonly sinceMs: number;
}

interface Dark {
  readonly of: Lit;
  readonly endMs: number;
}

const isExact = (at: CaseInstant): boolean => at.loMs === at.hiMs && at.spread === undefined;

/** Whether the tooth still rested when the light left the one before it: then the rest was waited for. */
function hasRested(layout: Layout, ends: ReadonlyMap<string, number>, next: Lit, atMs: number) {
  const instance = layout.byKey.get(`${next.step}@${next.subject}`);
  if (instance === undefined) return false;
  const wantedMs = restMs(layout, instance);
  return [...ends].every(
    ([subject, endMs]) => !shareTooth(layout, subject, next.subject) || endMs + wantedMs <= atMs,
  );
}

/** Every change-over of one case, in its order. */
export function changeOversOf(log: CaseLog): readonly ChangeOver[] {
  const { state, records } = log;
  if (!records.some(({ event }) => event.type === 'exposure-started')) return [];
  const layout = layoutOf(state);
  const moments = momentsOf(log);
  const labels = new Map(state.opened.spec.people.map((p) => [p.id, p.label]));
  const ends = new Map<string, number>();
  const found: ChangeOver[] = [];
  let lit: Lit | null = null;
  let dark: Dark | null = null;
  for (const { event, press, by } of records) {
    const at = moments.get(press);
    if (at === undefined) continue;
    if (!isExact(at)) {
      lit = null;
      dark = null;
    } else if (event.type === 'exposure-stopped') {
      // The lamp switches itself off at the time that it is set to.
      if (lit !== null) {
        const endMs = Math.min(at.loMs, lit.sinceMs + lit.setMs);
        ends.set(lit.subject, endMs);
        dark = { of: lit, endMs };
      }
      lit = null;
    } else if (event.type === 'exposure-started') {
      const { step, subject, setMs } = event;
      lit = { step, subject, setMs, sinceMs: at.loMs };
      if (dark !== null && dark.of.step === step && dark.of.subject !== subject) {
        const tookMs = at.loMs - dark.endMs;
        const isOne = tookMs > 0 && tookMs <= CHANGE_MS_MAX;
        if (isOne && hasRested(layout, ends, lit, dark.endMs)) {
          found.push({ step, person: labels.get(by ?? '') ?? by ?? '', tookMs });
        }
      }
      dark = null;
    } else if (event.type !== 'tones-heard' && event.type !== 'cue-acknowledged') dark = null;
  }
  return found;
}
