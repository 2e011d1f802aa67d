/**
 * A chair for tests: rows of what people do and what happens to the device, one a line, read from
 * top to bottom like a log. Times are true time since the first row, so a row can also say what the
 * clocks did not notice.
 *
 *     at 0 s     start etch 11
 *     at 20 s    end etch 11
 *     at 1:05    light-on expose 11 facial
 *     at 30 s    skip polish case because no time
 *     at 31 s    undo
 *     at 40 s    retime -5 s
 *     at 41 s    sleep 60 s
 */
import { present } from '../../src/base/assert.ts';
import { deepFreeze } from '../../src/base/freeze.ts';
import type { Command, Refusal } from '../../src/engine/commands.ts';
import { decide, decideOpening, type Opening } from '../../src/engine/decide.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { type CaseLog, extend, recordPress } from '../../src/engine/log.ts';
import type { Stamp } from '../../src/engine/types.ts';
import { viewOf } from '../../src/engine/view.ts';
import type { Offer, View } from '../../src/engine/view-types.ts';
import { answered } from '../../src/plan/follow.ts';
import type { Mishap, Surface } from '../../src/protocol/types.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { type ManualClock, manualClock } from '../runtime/manual-clock.ts';
import type { Setting } from './fixture.ts';

export const START_WALL_MS = Date.UTC(2026, 10, 27, 9, 0, 0);

const UNIT_MS: Readonly<Record<string, number>> = { ms: 1, s: 1000, min: 60_000, h: 3_600_000 };

/** `20 s`, `-5 s`, `1:05`, `1.5 min` in ms. */
function msOf(text: string): number {
  const clock = /^(\d+):(\d\d)$/.exec(text);
  if (clock) return (Number(clock[1]) * 60 + Number(clock[2])) * 1000;
  const plain = /^(-?[\d.]+) (ms|s|min|h)$/.exec(text);
  if (!plain) throw new Error(`not a time: ${text}`);
  return Math.round(Number(plain[1]) * present(UNIT_MS[plain[2] ?? ''], text));
}

const KINDS: readonly Offer['kind'][] = [
  'confirm',
  'start',
  'end',
  'coat',
  'pass',
  'all-passes',
  'passes-done',
  'choose',
  'light-on',
  'light-move',
  'light-off',
  'close',
];

export class Chair {
  readonly clock: ManualClock;
  log: CaseLog;
  /** True time since the opening, in ms: what an outsider's watch would show. */
  trueMs = 0;
  #runs = 1;

  constructor(setting: Setting, start: { wallMs?: number; monoMs?: number } = {}) {
    this.clock = manualClock({ wallMs: START_WALL_MS, runId: 'run-1', ...start });
    const opened = decideOpening(rehearsalOf(setting));
    if (!opened.ok) throw new Error(opened.error.code);
    const events = opened.value;
    this.log = extend(null, recordPress({ log: null, events, stamp: this.stamp, by: 'dentist-a' }));
  }

  get stamp(): Stamp {
    return this.clock.stamp();
  }

  get view(): View {
    return viewOf(this.log.state, this.stamp);
  }

  /** Lets true time pass up to `ms` since the opening; both clocks count it. */
  at(ms: number): this {
    if (ms < this.trueMs) throw new Error(`time goes back from ${this.trueMs} to ${ms}`);
    this.clock.advance(ms - this.trueMs);
    this.trueMs = ms;
    return this;
  }

  /** Carries out a command; null when it was, otherwise why not. */
  do(command: Command, by: string | null = 'dentist-a'): Refusal | null {
    const decided = decide(deepFreeze(this.log), command, this.stamp, tellReadBack);
    if (!decided.ok) return decided.error;
    const { log, stamp } = this;
    this.log = extend(log, recordPress({ log, events: decided.value, stamp, by }));
    return null;
  }

  /** Presses what the bar offers. */
  next(): Offer {
    const offer = present(this.view.offers[0], 'an offer');
    const no = this.do({ do: 'press', offer: answered(layoutOf(this.log.state), offer) });
    if (no) throw new Error(`${offer.id}: ${no.code}`);
    return offer;
  }

  /** A bare number means the tooth, unit, contact or mix that the step is done to. */
  subjects(step: string, names: readonly string[]): string[] {
    const per = layoutOf(this.log.state).protocol.steps.find((s) => s.id === step)?.per;
    return names.map((n) => (n === 'case' || n.includes(':') || !per ? n : `${per}:${n}`));
  }

  /** Reads rows; every row must be accepted. */
  rows(text: string): this {
    for (const [row, refused] of this.#run(text)) {
      if (refused) throw new Error(`${row}: refused, ${refused.code} ${refused.missing.join(' ')}`);
    }
    return this;
  }

  /** Reads rows and says of each refused one why: `end etch 11: not-running`. */
  refusals(text: string): string[] {
    return this.#run(text).flatMap(([row, no]) => (no ? [`${row}: ${no.code}`] : []));
  }

  #run(text: string): (readonly [string, Refusal | null])[] {
    return text
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '')
      .map((line) => {
        const timed = /^at (\S+(?: (?:ms|s|min|h))?)\s+(.*)$/.exec(line);
        if (timed) this.at(msOf(timed[1] ?? ''));
        const row = (timed?.[2] ?? line).replaceAll(/\s+/g, ' ');
        return [row, this.#row(row)] as const;
      });
  }

  #row(row: string): Refusal | null {
    const [verb = '', ...words] = row.split(' ');
    const rest = words.join(' ');
    switch (verb) {
      case 'next':
        this.next();
        return null;
      case 'undo':
        return this.do({ do: 'undo' });
      case 'retime':
        return this.do({ do: 'retime', byMs: msOf(rest) });
      case 'sleep':
        return this.#device(() => this.clock.sleep(msOf(rest)), msOf(rest));
      case 'wall':
        return this.#device(() => this.clock.moveWall(msOf(rest)), 0);
      case 'reload':
        this.clock.sleep(msOf(rest));
        this.#runs += 1;
        this.clock.restart(`run-${this.#runs}`);
        return this.#device(() => undefined, msOf(rest));
      case 'settle':
        return this.#settle(words);
      case 'note':
        return this.do({ do: 'note', words: rest });
      case 'skip':
        return this.#skip(words);
      case 'way-back':
        return this.#wayBack(words);
      case 'add-mix':
        return this.do({ do: 'add-mix', units: words, reason: 'mixed again' });
      case 'probe':
        return this.do({ do: 'probe-bead', mix: `mix:${words[0]}`, found: words[1] as 'soft' });
      case 'acknowledge':
        return this.do({ do: 'acknowledge', cue: rest });
      case 'role':
        return this.do({ do: 'take-role', person: words[0] ?? '', role: 'assistant' });
      case 'sign-off':
        return this.do({ do: 'close', by: words[0] ?? '', role: 'dentist' });
      default:
        return this.#press(verb, words);
    }
  }

  #device(change: () => void, trueMs: number): null {
    change();
    this.trueMs += trueMs;
    return null;
  }

  /** `settle last 60 s` gives the last gap its length. */
  #settle(words: readonly string[]): Refusal | null {
    const gap = words[0] === 'last' ? (this.log.state.gaps.at(-1)?.seq ?? -1) : Number(words[0]);
    return this.do({ do: 'settle-gap', gap, lengthMs: msOf(words.slice(1).join(' ')) });
  }

  #skip(words: readonly string[]): Refusal | null {
    const because = words.indexOf('because');
    const [step = '', ...names] = because < 0 ? words : words.slice(0, because);
    const reason = because < 0 ? '' : words.slice(because + 1).join(' ');
    return this.do({ do: 'skip', step, subjects: this.subjects(step, names), reason });
  }

  /** `way-back wet saliva tooth:11 because drool`. */
  #wayBack(words: readonly string[]): Refusal | null {
    const because = words.indexOf('because');
    const [id = '', mishap, ...subjects] = because < 0 ? words : words.slice(0, because);
    return this.do({
      do: 'take-way-back',
      wayBack: id === 'own' ? null : id,
      mishap: mishap as Mishap,
      subjects,
      reason: because < 0 ? '' : words.slice(because + 1).join(' '),
    });
  }

  #press(verb: string, words: readonly string[]): Refusal | null {
    const kind = KINDS.find((k) => k === verb);
    if (!kind) throw new Error(`no such row: ${verb}`);
    const [step = '', ...names] = words;
    if (kind.startsWith('light')) return this.#light(kind, step, names);
    if (kind === 'choose') {
      const option = names.at(-1) ?? '';
      const subjects = this.subjects(step, names.slice(0, -1));
      return this.do({ do: 'press', offer: { kind, step, subjects, option } });
    }
    return this.do({ do: 'press', offer: { kind, step, subjects: this.subjects(step, names) } });
  }

  /** `light-on expose 11 facial 8` sets the light to 8 s; without a number, to what is owed. */
  #light(kind: Offer['kind'], step: string, words: readonly string[]): Refusal | null {
    const [name = '', surface, setSeconds, position] = words;
    const subjects = this.subjects(step, [name]);
    const offered = this.view.offers.find(
      (o) => o.surface === surface && o.subjects[0] === subjects[0] && o.setMs !== undefined,
    );
    const setMs = setSeconds ? Number(setSeconds) * 1000 : (offered?.setMs ?? 10_000);
    const place = surface ? { surface: surface as Surface } : {};
    return this.do({
      do: 'press',
      offer: { kind, step, subjects, ...place, position: Number(position ?? 1), setMs },
    });
  }

  /** `over etch tooth:11 by 5000`, oldest first. */
  get breaches(): string[] {
    return this.log.state.breaches.map((b) => `${b.kind} ${b.of} ${b.subject} by ${b.by}`);
  }

  /** `etch tooth:11 [20000, 20000]`: elapsed of every running clock. */
  get clocks(): string[] {
    return this.view.clocks.map(
      (c) => `${c.of} ${c.subjects.join(' ')} [${c.elapsed.loMs}, ${c.elapsed.hiMs}]`,
    );
  }

  /** Ids of what is offered, most urgent first. */
  get offers(): string[] {
    return this.view.offers.map((o) => o.id);
  }

  status(key: string): string {
    return this.log.state.runs[key]?.status ?? 'none';
  }
}

export function rehearsalOf(setting: Setting): Opening {
  return { mode: 'rehearsal', ...setting, protocolHash: 'hash-1', approval: null };
}
