/**
 * Plays the script of a mishap on a chair: one line for each thing that happens, each with the time
 * since the stage at which the script begins.
 *
 *     to end etch-dry 11         rehearsed until that is done
 *     at 0:04  etched-saliva 11  the way back of that name is taken for 11
 *     at 0:10  press             what the bar offers is pressed, due or not
 *     at 0:10  do 3              three presses, each when it is due and at the usual pace
 *     then     until seat        pressed on until that is offered
 *     at 0:20  firm 1            the bead of portion 1 was probed and is firm
 *     at 0:30  away 40           the app was closed for 40 s, and opened again
 *     at 0:30  sleep 60          the tablet slept for 60 s
 *     then     bounce            the press before comes a second time, 80 ms later
 *     at 0:31  undo              the last press is taken back
 *     at 0:45  look              nothing: the screen is looked at then
 *     then     press             at once after the row before
 */
import { present } from '../../src/base/assert.ts';
import type { Command } from '../../src/engine/commands.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { createBounceGuard } from '../../src/runtime/keys/bounce.ts';
import {
  caseNamed,
  FAMILIES,
  type Family,
  FamilyChair,
  protocolNamed,
} from '../families/family-chair.ts';

type Kept = Pick<FamilyChair, 'log' | 'atMs'>;

/** One rehearsal of each case, kept press by press, as far as a script has asked for it. */
const rehearsals = new Map<string, { readonly chair: FamilyChair; readonly kept: Kept[] }>();

/** What a case may have beside its own file, so that a way back can happen in it. */
const MORE: Readonly<Record<string, (spec: CaseFile) => CaseFile>> = {
  cord: (spec) => ({ ...spec, choices: { ...spec.choices, cord: 'with-agent' } }),
  'open dentine': (spec) => ({
    ...spec,
    teeth: (spec.teeth ?? []).map((tooth) => ({ ...tooth, substrate: ['dentine-shows'] })),
  }),
};

/** A case by its family, with two units, or by its own name; `… with cord`. */
function begin(name: string): FamilyChair {
  const [plain = '', more] = name.split(' with ');
  const isFamily = plain in FAMILIES;
  if (isFamily && more === undefined) return FamilyChair.of(name as Family, 2);
  const whole = caseNamed(isFamily ? FAMILIES[plain as Family] : plain);
  const spec = more === undefined ? whole : present(MORE[more], more)(whole);
  return new FamilyChair({ spec, protocol: protocolNamed(whole.protocol) });
}

function rehearsalOf(name: string) {
  const known = rehearsals.get(name);
  if (known !== undefined) return known;
  const chair = begin(name);
  const fresh = { chair, kept: [{ log: chair.log, atMs: chair.atMs }] };
  rehearsals.set(name, fresh);
  return fresh;
}

/** Whether a stage is reached: `end load 11`, `start etch 11`, `end coats|bond 11`. */
function isReached({ log: { state } }: Kept, stage: string): boolean {
  const [edge, names = '', label = ''] = stage.split(' ');
  return names.split('|').some((step) => {
    const per = state.opened.protocol.steps.find((s) => s.id === step)?.per;
    const run = state.runs[`${step}@${per === 'case' ? 'case' : `${per}:${label}`}`];
    if (run === undefined) return false;
    return edge === 'start' ? run.startedAt !== null || run.lit !== null : run.status === 'done';
  });
}

function reach(name: string, stage: string): FamilyChair {
  const { chair, kept } = rehearsalOf(name);
  let at = 0;
  for (;;) {
    for (; at < kept.length; at += 1) {
      const there = kept[at];
      if (there !== undefined && isReached(there, stage)) return FamilyChair.from(there);
    }
    if (chair.next() === null) throw new Error(`never reached in ${name}: ${stage}`);
    kept.push({ log: chair.log, atMs: chair.atMs });
  }
}

/** `0:04`, `12:30` in ms. */
function msOf(clock: string): number {
  const [min = '', s = ''] = clock.split(':');
  return (Number(min) * 60 + Number(s)) * 1000;
}

function must(chair: FamilyChair, command: Command): void {
  const no = chair.do(command);
  if (no !== null) throw new Error(`${command.do}: ${no.code} ${no.missing.join(' ')}`);
}

/** `etched-saliva 11`; with several labels for all of them, without one for what it fits. */
function wayBack(chair: FamilyChair, id: string, labels: readonly string[]): void {
  const { state } = chair.log;
  const offer = waysBackNow(state, layoutOf(state)).find((w) => w.wayBack.id === id);
  const { per, mishap, title } = present(offer, `${id}, which does not fit here`).wayBack;
  const subjects =
    labels.length === 0 ? (offer?.subjects ?? []) : labels.map((label) => `${per}:${label}`);
  const lost = subjects.filter((s) => offer?.subjects.includes(s) !== true);
  if (lost.length > 0) throw new Error(`${id} does not fit ${lost.join(' ')}`);
  must(chair, { do: 'take-way-back', wayBack: id, mishap, subjects, reason: title });
}

/** Two presses so close are one, by the guard that the app has. */
const BOUNCED_MS = 80;

function bounced(chair: FamilyChair): void {
  const guard = createBounceGuard({ realNowMs: () => chair.atMs });
  const pressedAtMs = chair.atMs;
  chair.atMs -= BOUNCED_MS;
  guard.accept('press');
  chair.atMs = pressedAtMs;
  if (guard.accept('press'))
    must(chair, { do: 'press', offer: present(chair.view.offers[0], 'an offer') });
}

function happens(chair: FamilyChair, what: string): void {
  const [verb = '', ...rest] = what.split(' ');
  switch (verb) {
    case 'look':
      return;
    case 'press':
      must(chair, { do: 'press', offer: present(chair.view.offers[0], 'an offer') });
      return;
    case 'do':
      for (let n = 0; n < Number(rest[0]); n += 1) chair.next();
      return;
    case 'until':
      while (chair.view.offers[0]?.step !== rest[0])
        present(chair.next(), `never offered: ${what}`);
      return;
    case 'undo':
      must(chair, { do: 'undo' });
      return;
    case 'firm':
    case 'soft':
      must(chair, { do: 'probe-bead', mix: `mix:${rest[0]}`, found: verb });
      return;
    case 'away':
      chair.restartAfter(Number(rest[0]) * 1000);
      return;
    case 'sleep':
      chair.sleep(Number(rest[0]) * 1000);
      return;
    case 'bounce':
      chair.atMs += BOUNCED_MS;
      bounced(chair);
      return;
    default:
      wayBack(chair, verb, rest);
  }
}

/** The chair at the end of the script. `{1}` and `{2}` are the units of the case in seating order. */
export function played(name: string, script: string): FamilyChair {
  const [first = '', ...rows] = script
    .split('\n')
    .map((line) => line.trim().replaceAll(/\s+/g, ' '))
    .filter((line) => line !== '');
  const chair = reach(name, filled(name, first.replace(/^to /, '')));
  const startMs = chair.atMs;
  for (const row of rows) {
    const [, at, what = ''] = /^(?:at (\d+:\d\d)|then) (.+)$/.exec(row) ?? [];
    const atMs = at === undefined ? chair.atMs : startMs + msOf(at);
    if (what === '' || atMs < chair.atMs) throw new Error(`not a row, or too late for it: ${row}`);
    chair.atMs = atMs;
    happens(chair, filled(name, what));
  }
  return chair;
}

/** `{1}` is the first unit of the case in seating order, by its number. */
export function filled(name: string, text: string): string {
  const { order } = rehearsalOf(name).chair.log.state.opened.plan;
  return text.replaceAll(/\{(\d)\}/g, (_, n: string) => present(order[Number(n) - 1], `unit ${n}`));
}
