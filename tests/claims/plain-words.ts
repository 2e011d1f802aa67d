/** Names and lengths of time once more, written here and not taken from the app's own words. */
import { layoutOf } from '../../src/engine/layout.ts';
import type { PlainLog } from './plain-log.ts';

/** Universal numbers count from the upper right third molar to the lower right one (ADA, 1968). */
function universal(tooth: string): string {
  const [quadrant, place] = [Number(tooth[0]), Number(tooth[1])];
  if (quadrant === 1) return String(9 - place);
  if (quadrant === 2) return String(8 + place);
  return String(quadrant === 3 ? 25 - place : 24 + place);
}

const PALMER: Readonly<Record<string, string>> = { 1: 'UR', 2: 'UL', 3: 'LL', 4: 'LR' };

function tooth(id: string, notation: string): string {
  if (!/^[1-4][1-8]$/.test(id)) return id;
  if (notation === 'fdi') return id;
  return notation === 'universal' ? universal(id) : `${PALMER[id.charAt(0)]}${id.charAt(1)}`;
}

export function nameOf(subject: string, plain: PlainLog): string {
  const { notation, log } = plain;
  const [scope, id = ''] = subject.split(':');
  if (scope === 'case') return '';
  if (scope === 'mix') return `portion ${id}`;
  if (scope === 'contact') {
    return id
      .split('-')
      .map((each) => tooth(each, notation))
      .join('/');
  }
  const unit = scope === 'unit' ? log.state.opened.spec.units.find((u) => u.id === id) : undefined;
  return (unit?.teeth ?? [id]).map((each) => tooth(each, notation)).join('–');
}

const MANY: Readonly<Record<string, string>> = {
  tooth: 'teeth',
  unit: 'units',
  contact: 'contacts',
  mix: 'portions',
};

/** Up to four by name, more by their number. */
export function namesOf(subjects: readonly string[], plain: PlainLog): string {
  if (subjects.length < 5) return subjects.map((each) => nameOf(each, plain)).join(', ');
  return `${subjects.length} ${MANY[subjects[0]?.split(':')[0] ?? '']}`;
}

export const teethOf = (subject: string, { log }: PlainLog): readonly string[] =>
  subject === 'case'
    ? []
    : layoutOf(log.state)
        .subjects.teethOf(subject)
        .map((each) => each.replace('tooth:', ''));

/** Incisors and canines bite with an edge, the others with a surface. */
export function surfaceOf(surface: string, teeth: readonly string[]): string {
  if (!/^(incisal|occlusal)$/.test(surface) || teeth.length === 0) return surface;
  const isFront = (each: string) => Number(each[1]) <= 3;
  if (teeth.every(isFront)) return 'incisal';
  return teeth.some(isFront) ? surface : 'occlusal';
}

export const up = (ms: number): number => Math.max(0, Math.ceil(ms / 1000));
export const down = (ms: number): number => Math.max(0, Math.floor(ms / 1000));

/** 125 → "2:05". */
export function colons(seconds: number): string {
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (n: number) => (n < 10 ? `0${n}` : `${n}`);
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

/** 125 → "2 min 5 s". */
export function spelled(seconds: number): string {
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  if (h > 48) {
    const [days, hours] = [Math.floor(h / 24), h % 24];
    return hours === 0 ? `${days} d` : `${days} d ${hours} h`;
  }
  const parts = [h > 0 ? `${h} h` : '', m > 0 ? `${m} min` : '', s > 0 ? `${s} s` : ''];
  return parts.filter((each) => each !== '').join(' ') || '0 s';
}

/** Up to 90 s in seconds alone. */
export const soon = (ms: number): string => (ms < 90_000 ? `${up(ms)} s` : spelled(up(ms)));

/** Two figures, or one where both read the same. */
export const between = (lo: string, hi: string): string => (lo === hi ? lo : `${lo}–${hi}`);
