/** What is said of clocks: which one it is, what is left, how far over, and why nobody knows exactly. */
import { durationMs } from '../../src/base/units.ts';
import { compareHi, placeKey } from '../../src/engine/axis.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { applies } from '../../src/engine/status.ts';
import type { Elapsed } from '../../src/engine/types.ts';
import { butPasses, type Check, type Scene } from './check.ts';
import { allOf, type Drawn, textAt, textsOf } from './drawn-chair.tsx';
import type { Limit } from './plain-log.ts';
import {
  between,
  colons,
  down,
  nameOf,
  namesOf,
  spelled,
  surfaceOf,
  teethOf,
  up,
} from './plain-words.ts';

export interface Row {
  readonly label: string;
  readonly figure: string;
  readonly words: string;
  readonly further: string | null;
}

type Reading = Omit<Row, 'label'>;

function overReading(lo: number, hi: number): Reading {
  const isSure = lo > 0;
  if (!Number.isFinite(hi)) throw new Error('told apart before');
  const further = isSure ? 'limit passed' : 'limit may have passed';
  if (!isSure) return { figure: `+${colons(up(hi))}`, words: 'over at most', further };
  return { figure: `+${between(colons(up(lo)), colons(up(hi)))}`, words: 'over', further };
}

/** A minimum is judged by the shortest time that may have passed, a maximum by the longest. */
export function readingOf({ kind, elapsed, minMs, targetMs, maxMs }: Limit): Reading {
  const { loMs: lo, hiMs: hi } = elapsed;
  const left = (goal: number): string => between(colons(up(goal - hi)), colons(up(goal - lo)));
  const passed = Number.isFinite(hi)
    ? between(colons(down(lo)), colons(down(hi)))
    : `${colons(down(lo))}–?`;
  if (maxMs !== null && hi > maxMs) {
    if (Number.isFinite(hi)) return overReading(lo - maxMs, hi - maxMs);
    return lo > maxMs
      ? { figure: `+${colons(up(lo - maxMs))}`, words: 'over at least', further: 'limit passed' }
      : { figure: colons(down(lo)), words: 'elapsed at least', further: 'limit may have passed' };
  }
  const toLimit = maxMs === null ? null : `${left(maxMs)} to the limit`;
  if (kind === 'dwell') {
    const goal = targetMs ?? minMs ?? 0;
    if (lo >= goal) {
      const past = up(lo - goal);
      return {
        figure: past === 0 ? '0:00' : `+${colons(past)}`,
        words: 'past target',
        further: toLimit,
      };
    }
    const isShort = minMs !== null && minMs < goal && lo < minMs;
    return {
      figure: left(goal),
      words: 'to target',
      further: isShort ? `${left(minMs)} to the minimum` : toLimit,
    };
  }
  if (kind === 'window')
    return { figure: left(maxMs ?? 0), words: 'left in window', further: null };
  const goal = minMs ?? 0;
  const [before, after] = kind === 'light' ? ['of light left', 'given'] : ['to go', 'held'];
  return lo >= goal
    ? { figure: passed, words: after, further: null }
    : { figure: left(goal), words: before, further: null };
}

interface Group {
  readonly first: Limit;
  readonly subjects: readonly string[];
}

/** From the least to the most of both: those that one press began are one clock. */
const hull = (a: Elapsed, b: Elapsed): Elapsed => ({
  loMs: durationMs(Math.min(a.loMs, b.loMs)),
  hiMs: durationMs(Math.max(a.hiMs, b.hiMs)),
});

/** Clocks of one kind that began together are one clock. */
function groupsOf({ limits }: Scene): readonly Group[] {
  const groups = new Map<string, { first: Limit; subjects: string[] }>();
  for (const limit of limits) {
    const key = `${limit.of} ${placeKey(limit.since)} ${limit.surface ?? ''}`;
    const group = groups.get(key);
    if (!group) groups.set(key, { first: limit, subjects: [limit.subject] });
    else {
      if (!group.subjects.includes(limit.subject)) group.subjects.push(limit.subject);
      group.first = { ...group.first, elapsed: hull(group.first.elapsed, limit.elapsed) };
    }
  }
  return [...groups.values()];
}

function labelOf({ first, subjects }: Group, { plain }: Scene): string {
  const names = namesOf(subjects, plain);
  const label = names === '' ? first.title : `${first.title} ${names}`;
  if (first.surface === undefined) return label;
  return `${label}, ${surfaceOf(
    first.surface,
    subjects.flatMap((s) => teethOf(s, plain)),
  )}`;
}

const show = ({ label, figure, words, further }: Row): string =>
  `${label}: ${figure} ${words}${further === null ? '' : `, ${further}`}`;

/** Rows that the log bears out. */
function trueRows(scene: Scene): readonly Row[] {
  const layout = layoutOf(scene.plain.log.state);
  return groupsOf(scene).flatMap((group) => {
    const { first } = group;
    const reading = readingOf(first);
    const row = { label: labelOf(group, scene), ...reading };
    const isCement = first.from.includes('@mix:') && first.kind === 'window';
    if (!isCement) return [row];
    const mixes = [...new Set(group.subjects.flatMap((s) => layout.subjects.linked(s, 'mix')))];
    const portion = namesOf(mixes, scene.plain);
    const label = portion.charAt(0).toUpperCase() + portion.slice(1);
    const isOver = first.maxMs !== null && first.elapsed.hiMs > first.maxMs;
    const words = isOver ? reading.words : 'of working time left';
    return [row, { label, ...reading, words }];
  });
}

function drawnRows({ drawn }: Scene): readonly Row[] {
  const own = allOf(drawn, 'lw-clock').map((clock) => {
    const figure = textAt(clock, 'lw-clock-figure') ?? '';
    const words = textAt(clock, 'lw-clock-words') ?? '';
    const name = clock.attributes['aria-label'] ?? '';
    const label = name.endsWith(`: ${figure} ${words}`)
      ? name.slice(0, -`: ${figure} ${words}`.length)
      : name;
    return { label, figure, words, further: textAt(clock, 'lw-clock-further') };
  });
  const watched = allOf(drawn, 'lw-watch').flatMap((clock) => {
    const row = {
      label: textAt(clock, 'lw-watch-label') ?? '',
      figure: textAt(clock, 'lw-watch-figure') ?? '',
      words: textAt(clock, 'lw-watch-words') ?? '',
      further: null,
    };
    const name = clock.attributes['aria-label'] ?? '';
    return name === show(row) ? [row] : [row, { ...row, label: `named: ${name}` }];
  });
  const listed = allOf(drawn, 'lw-window').map((clock) => ({
    label: textAt(clock, 'lw-window-label') ?? '',
    figure: textAt(clock, 'lw-window-figure') ?? '',
    words: textAt(clock, 'lw-window-words') ?? '',
    further: null,
  }));
  return [...own, ...watched, ...listed];
}

/** "Seated 12, 3 later": so many others of the same window have a clock that stands nowhere else. */
function withoutLater(row: Row, rows: readonly Row[], scene: Scene): Row | null {
  const [, label = '', count = ''] = /^(.*), (\d+) later$/.exec(row.label) ?? [];
  if (label === '') return row;
  const groups = groupsOf(scene);
  const mine = groups.find((group) => labelOf(group, scene) === label);
  const layout = layoutOf(scene.plain.log.state);
  const isAsked = ({ to }: Limit): boolean => {
    const instance = layout.byKey.get(to);
    return (
      instance === undefined ||
      scene.plain.runs.has(to) ||
      applies(scene.plain.log.state, layout, instance) !== 'no'
    );
  };
  const others = groups.filter(
    (group) =>
      group !== mine &&
      group.first.of === mine?.first.of &&
      compareHi(group.first.since, mine.first.since) >= 0 &&
      !rows.some((each) => each.label === labelOf(group, scene)),
  );
  const subjects = others.flatMap((group) => {
    const open = scene.limits.filter(
      (l) => l.of === group.first.of && placeKey(l.since) === placeKey(group.first.since),
    );
    return [...new Set(open.filter(isAsked).map((l) => l.subject))];
  });
  return subjects.length === Number(count) ? { ...row, label } : null;
}

const rows: Check = {
  name: 'every clock that is drawn runs, with these limits',
  entries: [
    'clock.label',
    'clock.labelOnSurface',
    'clock.withLater',
    'clock.cement',
    'clock.cementLeft',
    'part.clockName',
    'part.clock.',
    'part.toLimit',
    'part.toMinimum',
    'part.atLimit',
    'part.perhapsOver',
    'surface.',
    'subject.few',
    'subject.portion',
    'subject.many.',
  ],
  complaints: (scene) => {
    const real = new Set(
      trueRows(scene).flatMap((row) => [show(row), show({ ...row, further: null })]),
    );
    const drawn = drawnRows(scene);
    const bare = (label: string) => label.replace(/, \d+ later$/, '');
    const lies = drawn.filter((row) => {
      const told = withoutLater(
        row,
        drawn.map((each) => ({ ...each, label: bare(each.label) })),
        scene,
      );
      return told === null || !real.has(show(told));
    });
    // The large clock tells its further line too.
    const own = drawnRows({ ...scene, drawn: scene.drawn }).find(({ further }) => further !== null);
    const isOwnTrue = own === undefined || real.has(show(own));
    return [...lies.map(show), ...(isOwnTrue ? [] : [show(own)])];
  },
};

const none: Check = {
  name: 'no clock is running',
  entries: ['part.noClocks'],
  complaints: (scene) => {
    const isDrawn = textsOf(scene.drawn, 'lw-window-none').length > 0;
    if (!isDrawn) return [];
    const isTold = textsOf(scene.drawn, 'lw-window-none').join() === 'No clock is running';
    const { state } = scene.plain.log;
    const layout = layoutOf(state);
    const running = scene.limits.filter(({ to, kind }) => {
      const instance = layout.byKey.get(to);
      const isAsked =
        instance === undefined ||
        scene.plain.runs.has(to) ||
        applies(state, layout, instance) !== 'no';
      return kind === 'dwell' || kind === 'light' || isAsked;
    });
    const told = running.map(
      (l) => `no clock is running, but ${l.of} ${nameOf(l.subject, scene.plain)}`,
    );
    return isTold ? told : ['some other words'];
  },
};

/** What two stamps say of the time between them, to the second. */
function gapSentences(scene: Scene): readonly string[] {
  const { records } = scene.plain.log;
  const noted = records.flatMap(({ event }) => (event.type === 'gap-found' ? [event] : []));
  const pressed = records.slice(1).flatMap(({ stamp: after }, i) => {
    const before = records[i]?.stamp;
    return before === undefined ? [] : [{ before, after }];
  });
  return [...noted, ...pressed].flatMap(({ before, after }) => {
    const wallMs = after.wallMs - before.wallMs;
    const monoMs = after.monoMs - before.monoMs;
    const isOther = before.runId !== after.runId;
    const told = (what: string, ms: number, tail = '') =>
      ms < 1000
        ? [`${what} less than 1 s${tail}`]
        : [-1, 0, 1].flatMap((s) => [
            `${what} 0 s to ${spelled(down(ms) + s)}${tail}`,
            `${what} ${spelled(down(ms) + s)}${tail}`,
          ]);
    if (isOther && wallMs < 0) {
      return ['The app was closed for an unknown time: the tablet’s clock does not tell'];
    }
    if (isOther)
      return [
        ...told('The app was closed for', wallMs),
        ...told('The app was closed for', wallMs + 500),
      ];
    if (wallMs > monoMs)
      return told('The tablet slept or its clock was moved for', wallMs - monoMs);
    return told(
      'The tablet’s clock was set back or runs slow:',
      monoMs - Math.max(0, wallMs),
      ' may have passed',
    );
  });
}

const reasons: Check = {
  name: 'why a figure is an interval',
  entries: [
    'clock.gaps.',
    'clock.spread',
    'chair.gapAdvice',
    'chair.gapUnknownAdvice',
    'lengths.interval',
  ],
  complaints: (scene) => {
    const classes = ['lw-clock-reason', 'lw-watch-reason', 'lw-window-reason'];
    const beside = classes.flatMap((name) => textsOf(scene.drawn, name));
    // What asks has answers to touch; nothing else in a banner of this chair has.
    const asking = allOf(scene.drawn, 'lw-banner').filter(
      (each) => textsOf(each, 'lw-button').length > 0,
    );
    const told = [...beside, ...asking.map((each) => textAt(each, 'lw-banner-words') ?? '')];
    const isSpread = scene.limits.some(({ since }) => since.spread !== undefined);
    const real = [
      ...gapSentences(scene),
      ...(isSpread ? ['One press stood for several moments'] : []),
    ];
    const isOpen = scene.limits.some(({ elapsed }) => elapsed.hiMs > elapsed.loMs);
    const isUnknown = told.some((each) => each.includes('unknown time'));
    const spared = scene.limits.filter(
      (l) =>
        l.maxMs !== null &&
        l.elapsed.hiMs === Number.POSITIVE_INFINITY &&
        l.elapsed.hiMs <= l.maxMs,
    );
    return [
      ...told.filter((each) => !real.includes(each)).map((each) => `${each} — ${real.join(' | ')}`),
      ...(told.length > 0 && !isOpen ? ['a gap is told, but nothing is in doubt'] : []),
      ...(isUnknown ? spared.map((l) => `${l.of} does not count as passed`) : []),
      ...asking
        .map(adviceOf)
        .filter((each) => !ADVICE.includes(each ?? ''))
        .map(String),
    ];
  },
};

const ADVICE = [
  'Did all that time really pass?',
  'How long was it? Until you say, every limit over it counts as passed.',
];
const adviceOf = (banner: Drawn): string | null => textAt(banner, 'lw-banner-advice');

export const clockChecks: readonly Check[] = [butPasses(rows), butPasses(none), reasons];
