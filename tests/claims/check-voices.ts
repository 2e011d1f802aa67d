/**
 * One picture, told four times: on the chair, on the far view, in the one line on other pages, and by the
 * voice; and all of it again on a second device, which has the picture through a channel and the log from
 * the journal. What says the same says it in the same letters. The voice spells nothing for the ear.
 */
import { replay } from '../../src/engine/log.ts';
import type { Check, Scene } from './check.ts';
import { namesFor } from './check-bar.ts';
import { allOf, type Drawn, draw, textAt, textOf, textsOf } from './drawn-chair.tsx';
import type { Limit } from './plain-log.ts';
import { namesOf } from './plain-words.ts';

const HEADING = ['lw-step-line', 'far-view-step'];
/** Texts that a second device shows as the first does, by the class that they stand in. */
const SHARED = [
  'lw-step-line',
  'lw-step-detail',
  'lw-clock',
  'lw-watch',
  'lw-window',
  'lw-tooth',
  'lw-cue-words',
  'lw-cue-subject',
  'lw-cue-age',
  'lw-bar-words',
  'lw-bar-sub',
  'lw-next',
  'short-cautions',
  'chair-instruction-words',
];

function differing(
  name: string,
  one: readonly string[],
  other: readonly string[],
): readonly string[] {
  const [a, b] = [one.join(' ¦ '), other.join(' ¦ ')];
  return a === b ? [] : [`${name}: “${a}” and “${b}”`];
}

const namesIn = (at: Drawn, name: string): readonly string[] =>
  allOf(at, name).map((each) => `${each.attributes['aria-label'] ?? ''} ${textOf(each)}`);

/** The far view beside the chair: heading, the clock in hand, what is watched, the numbering. */
function againstFar(chair: Drawn, far: Drawn): readonly string[] {
  const [numbering] = allOf(chair, 'lw-status-item').filter(
    (each) => each.attributes['data-item'] === 'numbering',
  );
  return [
    ...differing('heading', textsOf(chair, HEADING[0] ?? ''), textsOf(far, HEADING[1] ?? '')),
    ...differing('clock', namesIn(chair, 'lw-clock'), namesIn(far, 'lw-clock')),
    ...differing('watched', namesIn(chair, 'lw-watch'), namesIn(far, 'lw-watch')),
    ...(numbering && textAt(far, 'far-view-case')?.includes(textOf(numbering)) !== true
      ? ['the numbering is another one on the far view']
      : []),
  ];
}

/** The one line on other pages: heading, the count in hand, and each that is watched. */
function againstLine(chair: Drawn, line: Drawn): readonly string[] {
  const [strong] = allOf(line, 'running-line-go').flatMap((each) =>
    each.inside.flatMap((inner) =>
      typeof inner !== 'string' && inner.tag === 'strong' ? [textOf(inner).trim()] : [],
    ),
  );
  const ofClock = allOf(chair, 'lw-clock').map(
    (each) => `${textAt(each, 'lw-clock-figure')} ${textAt(each, 'lw-clock-words')}`,
  );
  const ofWatched = allOf(chair, 'lw-watch').map(
    (each) =>
      `${textAt(each, 'lw-watch-label')} ${textAt(each, 'lw-watch-figure')} ${textAt(each, 'lw-watch-words')}`,
  );
  const counts = allOf(line, 'running-line-go').flatMap((each) =>
    each.inside.flatMap((inner) =>
      typeof inner !== 'string' && inner.attributes['class'] === 'running-line-count'
        ? [textOf(inner)]
        : [],
    ),
  );
  return [
    ...differing('heading of the line', textsOf(chair, 'lw-step-line'), [strong ?? '']),
    ...differing('count of the line', ofClock, counts),
    ...differing('beside it', ofWatched, textsOf(line, 'running-line-beside')),
  ];
}

/** What is called out of a clock; where only the longest time that may have passed says so, that it may be. */
function calledOut({ cue }: Scene['spoken'][number], limit: Limit | undefined): string {
  const { loMs = 0 } = limit?.elapsed ?? {};
  const maxMs = limit?.maxMs ?? 0;
  const lead = cue.kind === 'window-closing' ? Math.min(120_000, Math.round(maxMs / 5)) : 0;
  const perhaps = maxMs - lead - loMs > 0 ? 'perhaps ' : '';
  switch (cue.kind) {
    case 'nearing':
      return '5 s left';
    case 'now':
      return 'time elapsed';
    case 'over':
      return `${perhaps}over the limit`;
    case 'window-closing':
      return `${perhaps}closing`;
    default:
      return `${perhaps}outside the window`;
  }
}

/** What the voice says of each cue: a press in the words of the bar, or the clock by its own name. */
function againstVoice(scene: Scene): readonly string[] {
  const { running, drawn, plain, limits, spoken } = scene;
  const { offers } = running.view;
  const bar = textAt(drawn, 'lw-bar-words');
  return spoken.flatMap((each) => {
    const { cue, words } = each;
    const offer = offers.find(
      (o) => o.step === cue.of && o.subjects.some((s) => cue.subjects.includes(s)),
    );
    if (offer && (cue.kind === 'now' || cue.kind === 'over')) {
      if (offer === running.view.attention.inHand && running.view.attention.asked === null)
        return words === bar ? [] : [`said “${words}”, the bar “${bar}”`];
      const names = namesFor(scene, offer);
      return names.includes(words ?? '')
        ? []
        : [`said “${words}”, by the log: ${names.join(' | ')}`];
    }
    const limit = limits.find((l) => l.of === cue.of && cue.subjects.includes(l.subject));
    const name = namesOf(cue.subjects, plain);
    const label = `${limit?.title}${name && ` ${name}`}`;
    const isTrue = words === `${label}: ${calledOut(each, limit)}`;
    return isTrue ? [] : [`said “${words}”, by the log: ${label}: ${calledOut(each, limit)}`];
  });
}

export const voices: Check = {
  name: 'screen, far view, second device and voice say the same in the same letters',
  entries: [
    'farView.noClock',
    'farView.rehearsal',
    'clock.cues.',
    'clock.cuesInDoubt.',
    'runningLine.toChair',
  ],
  complaints: (scene) => {
    const { running, drawn, plain, far, line } = scene;
    const isNone =
      !scene.limits.some(({ kind }) => kind === 'dwell' || kind === 'light') &&
      allOf(drawn, 'lw-clock').length === 0 &&
      allOf(drawn, 'lw-watch').length === 0;
    const none = textAt(far, 'far-view-none');
    const ref = plain.log.state.opened.spec.chartRef;
    const foot = textAt(far, 'far-view-case') ?? '';
    return [
      ...againstFar(drawn, far),
      ...againstLine(drawn, line),
      ...againstVoice(scene),
      ...((none === 'No step is being timed') === isNone ? [] : [`far view: ${none}`]),
      ...(foot.endsWith(`Rehearsal ${running.speed}×`) ? [] : [foot]),
      ...(textAt(line, 'running-line-ref') === `${ref}, to the chair`
        ? []
        : ['the line leads elsewhere']),
    ];
  },
};

/** The same picture on a second device. */
export function againstSecond({ running, drawn }: Scene): readonly string[] {
  const { view, now } = structuredClone({ view: running.view, now: running.now });
  const log = replay(structuredClone(running.log.records));
  const second = { ...running, log, view, now, isViewOnly: true };
  const other = draw(second);
  return [
    ...SHARED.flatMap((name) => differing(name, namesIn(drawn, name), namesIn(other, name))),
    ...againstFar(drawn, draw(second, 'far')),
  ];
}
