/** What is told after a drill. Pure. */
import { type DrillAccount, wasAnswered } from '../../drill/account.ts';
import type { ShownCard } from '../../drill/drill-types.ts';
import type { CardScore } from '../../drill/score.ts';
import type { CaseLog } from '../../engine/log.ts';
import { breachWords } from '../../words/breach-words.ts';
import { drillCardWords } from '../../words/drill-sight-words.ts';
import { drillWords } from '../../words/drill-words.ts';
import { formatClock, formatSeconds } from '../../words/duration.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { subjectsLabel } from '../../words/subject-words.ts';

export interface CardRow {
  readonly id: string;
  readonly seen: string;
  readonly first: string;
  readonly right: string;
  readonly inTime: string;
}

export interface TimelineMark {
  readonly id: string;
  readonly kind: 'card' | 'way' | 'limit';
  /** Ms since people took over. */
  readonly atMs: number;
  readonly words: string;
}

export interface DebriefModel {
  readonly right: readonly string[];
  readonly rows: readonly CardRow[];
  readonly limits: readonly string[];
  readonly presses: string;
  readonly run: readonly TimelineMark[];
  readonly ideal: readonly TimelineMark[];
  readonly lastsMs: number;
  readonly neverCame: number;
}

const yesNo = (is: boolean): string => (is ? drillWords.debrief.yes : drillWords.debrief.no);

export function debriefModel(account: DrillAccount): DebriefModel {
  const { course, score, run, ideal, endedAtMs } = account;
  const { drill, drilled } = course;
  const naming: CaseNaming = { protocol: drilled.protocol, spec: drilled.spec };
  const beganAtMs = drill.beginsAtMs;
  const lastMs = Math.max(endedAtMs, drill.again === undefined ? ideal.endedAtMs : 0);
  const lastsMs = Math.max(1, lastMs - beganAtMs);
  const shown = score.cards.map((c) => c.shown);
  const idealShown = ideal.shown.filter(
    ({ card }) => drill.again === undefined || card.id === drill.again,
  );
  return {
    right: rightOf(account, naming),
    rows: score.cards.map((card) => rowOf(card, { account, naming })),
    limits: score.breaches.map((breach) => breachWords(breach, naming)),
    presses: pressesOf(score.wasted),
    run: timeline({ log: run, shown, beganAtMs, naming }),
    ideal: timeline({ log: ideal.log, shown: idealShown, beganAtMs, naming }).filter(
      ({ atMs }) => atMs <= lastsMs,
    ),
    lastsMs,
    neverCame: drill.again === undefined ? score.leftOut : 0,
  };
}

/** What went right, first of all. */
function rightOf({ score }: DrillAccount, { spec }: CaseNaming): readonly string[] {
  const { right } = drillWords.debrief;
  const cards = score.cards.flatMap(({ shown, isRightFirst, isInTime, firstRightMs }) => {
    const seen = drillCardWords(shown.card, spec);
    if (shown.card.kind === 'interruption') return [];
    if (shown.card.kind === 'foil') return isInTime ? [right.leftAlone(seen)] : [];
    const after = formatSeconds(firstRightMs ?? 0, 'up');
    if (isRightFirst && isInTime) return [right.rightInTime({ seen, after })];
    return [
      ...(isRightFirst ? [right.rightFirst(seen)] : []),
      ...(isInTime ? [right.inTime({ seen, after })] : []),
    ];
  });
  const { takenBack, wrongWay, wrongSubject } = score.wasted;
  return [
    ...cards,
    ...(score.breaches.length === 0 ? [right.bounds] : []),
    ...(takenBack + wrongWay + wrongSubject === 0 ? [right.presses] : []),
  ];
}

function rowOf(
  card: CardScore,
  o: { readonly account: DrillAccount; readonly naming: CaseNaming },
): CardRow {
  const { debrief } = drillWords;
  const { shown, firstRightMs, isRightFirst, isInTime, roomMs } = card;
  const own = { id: shown.card.id, seen: drillCardWords(shown.card, o.naming.spec) };
  if (shown.card.kind === 'interruption') {
    return { ...own, first: debrief.firstNone, right: '', inTime: '' };
  }
  if (shown.card.kind === 'foil') {
    return { ...own, first: debrief.firstNone, right: yesNo(isRightFirst), inTime: '' };
  }
  if (!wasAnswered(card, o.account.endedAtMs)) {
    return { ...own, first: debrief.notAsked, right: '', inTime: '' };
  }
  const first =
    firstRightMs === null ? debrief.firstNever : debrief.first(formatSeconds(firstRightMs, 'up'));
  const answer = yesNo(isInTime);
  const inTime =
    roomMs === null ? answer : debrief.room({ answer, room: formatClock(roomMs, 'down') });
  return { ...own, first, right: yesNo(isRightFirst), inTime };
}

function pressesOf({ takenBack, wrongWay, wrongSubject }: DrillAccount['score']['wasted']): string {
  const { debrief } = drillWords;
  const parts = [
    ...(takenBack > 0 ? [debrief.takenBack(takenBack)] : []),
    ...(wrongWay > 0 ? [debrief.wrongWay(wrongWay)] : []),
    ...(wrongSubject > 0 ? [debrief.wrongSubject(wrongSubject)] : []),
  ];
  return parts.length === 0 ? debrief.pressesNone : debrief.several(parts);
}

function timeline(o: {
  readonly log: CaseLog;
  readonly shown: readonly ShownCard[];
  readonly beganAtMs: number;
  readonly naming: CaseNaming;
}): readonly TimelineMark[] {
  const { log, naming, beganAtMs } = o;
  const { debrief } = drillWords;
  const mark = (
    kind: TimelineMark['kind'],
    what: string,
    at: { readonly id: string; readonly ms: number },
  ): readonly TimelineMark[] =>
    at.ms < beganAtMs
      ? []
      : [
          {
            id: `${kind} ${at.id}`,
            kind,
            atMs: at.ms - beganAtMs,
            words: debrief.line({ kind: debrief.kinds[kind], what }),
          },
        ];
  const cards = o.shown.flatMap(({ card, shownAtMs }) =>
    shownAtMs === null
      ? []
      : mark('card', drillCardWords(card, naming.spec), { id: card.id, ms: shownAtMs }),
  );
  const ways = log.state.waysBack.flatMap((way) => {
    const known = naming.protocol.waysBack.find(({ id }) => id === way.wayBack);
    const title = known?.title ?? protocolWords.mishaps[way.mishap];
    const what = debrief.way({ title, of: subjectsLabel(way.subjects, naming.spec) });
    return mark('way', what, { id: `${way.press}`, ms: way.at.loMs });
  });
  const limits = log.state.breaches.flatMap((breach, i) =>
    mark('limit', breachWords(breach, naming), { id: `${i}`, ms: breach.at.loMs }),
  );
  return [...cards, ...ways, ...limits].toSorted((a, b) => a.atMs - b.atMs);
}
