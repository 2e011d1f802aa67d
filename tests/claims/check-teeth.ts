/** What stands on the teeth: where each is in its own chain, what runs on it, what light it was given. */
import { elapsed } from '../../src/engine/axis.ts';
import { layoutOf, surfacePlans } from '../../src/engine/layout.ts';
import { butPasses, type Check, type Scene } from './check.ts';
import { allOf, textAt } from './drawn-chair.tsx';
import { isRunning, type Limit } from './plain-log.ts';
import { nameOf, surfaceOf, up } from './plain-words.ts';

/** "17 s", "now", "+3 s", "6 s over", "over?" for a dwell. */
function dwellWord({ elapsed, maxMs, targetMs }: Limit): string {
  const { loMs: lo, hiMs: hi } = elapsed;
  if (maxMs !== null && hi > maxMs) {
    if (lo <= maxMs || !Number.isFinite(hi)) return 'over?';
    const [least, most] = [up(lo - maxMs), up(hi - maxMs)];
    return least === most ? `${least} s over` : `${least} s to ${most} s over`;
  }
  const left = (targetMs ?? 0) - lo;
  if (left > 0) return `${up(left)} s`;
  return left === 0 ? 'now' : `+${up(-left)} s`;
}

interface Exposed {
  readonly given: number;
  readonly of: number;
}

/** Surfaces of a tooth that had all their light, by the step with most surfaces. */
function exposedOf(scene: Scene, own: readonly string[]): Exposed {
  const { plain } = scene;
  const layout = layoutOf(plain.log.state);
  const count = ({ action }: (typeof layout.protocol.steps)[number]) =>
    action.kind === 'expose' ? action.surfaces.length : 0;
  const main = layout.protocol.steps.toSorted((a, b) => count(b) - count(a))[0];
  const instance = layout.instances.find((i) => i.step.id === main?.id && own.includes(i.subject));
  if (instance === undefined) return { given: 0, of: 0 };
  const run = plain.runs.get(instance.key);
  const plans = surfacePlans(layout, instance);
  const given = plans.filter((plan) => {
    if (run?.lit?.surface === plan.surface) return false;
    const ms = [...(run?.givenMs ?? [])].filter(([place]) => place.startsWith(`${plan.surface} `));
    return ms.reduce((sum, [, each]) => sum + each, 0) >= plan.setMs * plan.positions;
  });
  return { given: given.length, of: plans.length };
}

const isOf = (key: string, own: readonly string[]): boolean =>
  own.includes(key.slice(key.indexOf('@') + 1));

/** Whether tones have led over one of these to the end, and nobody has confirmed that pass since. */
function isLed({ plain, running }: Scene, own: readonly string[]): boolean {
  const ends = new Set(['light-pass-stopped', 'gap-found']);
  const last = plain.events.findLastIndex(({ type }) => type === 'light-pass-confirmed');
  const since = plain.events.slice(last + 1);
  return since.some((event, i) => {
    if (event.type !== 'light-pass-begun') return false;
    // Light on what no longer counts is not asked about.
    const isVoid = since
      .slice(i + 1)
      .some((e) => e.type === 'way-back-taken' && e.voided.some((key) => isOf(key, own)));
    if (isVoid) return false;
    const end = since.slice(i + 1).find(({ type }) => ends.has(type))?.at ?? running.view.at;
    const passedMs = elapsed(event.at, end).loMs;
    return event.places.some((p) => own.includes(p.subject) && p.fromMs + p.setMs <= passedMs);
  });
}

/** What may stand on one tooth, by the log. */
function wordsOf(scene: Scene, id: string): readonly string[] {
  const { plain, limits } = scene;
  const layout = layoutOf(plain.log.state);
  const own = [`tooth:${id}`, ...layout.subjects.linked(`tooth:${id}`, 'unit')];
  const mine = layout.instances.filter((i) => own.includes(i.subject));
  const dwells = limits.filter((l) => l.kind === 'dwell' && own.includes(l.subject));
  if (dwells.length > 0) return dwells.map(dwellWord);
  const lit = limits.find((l) => l.kind === 'light' && own.includes(l.subject));
  // The step with most surfaces is told by the surface that is lit, a shorter one by its title.
  if (lit?.surface !== undefined) return [surfaceOf(lit.surface, [id]), lit.title];
  if (isLed(scene, own)) return ['paced, not confirmed'];
  const runs = mine.map((i) => ({ step: i.step, run: plain.runs.get(i.key) }));
  // What has a condition may not be asked for at all; all else must have been done.
  const isOpen = runs.some(({ step, run }) =>
    run === undefined ? !step.onlyIf?.length : isRunning(run),
  );
  const isSkipped = runs.some(({ run }) => run?.isSkipped === true);
  const { given, of } = exposedOf(scene, own);
  const last = mine
    .filter((i) => i.step.words?.leaves !== undefined && isDone(scene, i.key))
    .toSorted((a, b) => a.stepIndex - b.stepIndex)
    .at(-1);
  const top = scene.running.view.attention.inHand;
  const inHand = top?.subjects.some((s) => own.includes(s)) ? [top.step] : [];
  const running = mine.filter((i) => isRunning(plain.runs.get(i.key))).map((i) => i.step.id);
  const at = [...inHand, ...running];
  // After a mishap of its own the tooth says what is asked for it: "Find it".
  const isHurt = plain.of('way-back-taken').some((e) => e.subjects.some((s) => own.includes(s)));
  const asked = scene.running.view.offers.filter((o) => o.subjects.some((s) => own.includes(s)));
  const askedOf = isHurt ? asked.map(({ step }) => step) : [];
  return [
    ...layout.protocol.steps.filter((s) => askedOf.includes(s.id)).map((s) => s.title),
    ...(isOpen ? [] : [isSkipped ? 'skipped' : 'done']),
    ...(given > 0 ? [`${given} of ${of} exposed`] : []),
    ...layout.protocol.steps.filter((s) => at.includes(s.id) && given === 0).map((s) => s.title),
    ...(at.length > 0 || given > 0 ? [] : [last?.step.words?.leaves ?? 'waiting']),
  ];
}

function isDone({ plain }: Scene, key: string): boolean {
  const run = plain.runs.get(key);
  return run !== undefined && !run.isSkipped && run.endedAt !== null;
}

const teeth: Check = {
  name: 'the word on each tooth, and its name',
  entries: ['chair.tooth.', 'part.toothName', 'part.toothNameWithSurfaces', 'surface.'],
  complaints: (scene) => {
    const { plain, drawn } = scene;
    const layout = layoutOf(plain.log.state);
    const ids = layout.subjects.order.tooth.map((each) => each.replace('tooth:', ''));
    const byLabel = new Map(ids.map((id) => [nameOf(`tooth:${id}`, plain), id]));
    return allOf(drawn, 'lw-tooth').flatMap((tooth) => {
      const label = textAt(tooth, 'lw-tooth-label') ?? '';
      const word = textAt(tooth, 'lw-tooth-word') ?? '';
      const name = allOf(tooth, 'lw-tooth-body')[0]?.attributes['aria-label'] ?? '';
      const id = byLabel.get(label) ?? '';
      const words = wordsOf(scene, id);
      const own = [`tooth:${id}`, ...layout.subjects.linked(`tooth:${id}`, 'unit')];
      const { given, of } = exposedOf(scene, own);
      const plainName = `Tooth ${label}, ${word}`;
      const isNamed =
        name === plainName || name === `${plainName}, ${given} of ${of} surfaces exposed`;
      return [
        ...(words.includes(word) ? [] : [`${label}: “${word}”, by the log: ${words.join(' | ')}`]),
        ...(isNamed ? [] : [`named “${name}”, drawn ${plainName}, ${given} of ${of}`]),
      ];
    });
  },
};

export const toothChecks: readonly Check[] = [butPasses(teeth)];
